/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choices_button.h"

#include "choice_edits.h"
#include "edits.h"
#include "menu_keys.h"

#include <math.h>

#define REST_MS 500 /* after the last turn of a field: many turns are one choice */

struct _SbChoicesButton {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *menu_button;
  GtkWidget *spin[SB_N_CHOICES]; /* NULL until opened for the first time */
  GtkWidget *steps;              /* likewise */
  gboolean updating;
  int pending; /* the field turned but not yet chosen; -1: none */
  guint rest_source;
};

G_DEFINE_FINAL_TYPE (SbChoicesButton, sb_choices_button, GTK_TYPE_BOX)

static void
choose_pending (SbChoicesButton *button)
{
  g_clear_handle_id (&button->rest_source, g_source_remove);
  int pending = button->pending;
  button->pending = -1;
  if (pending >= 0)
    sb_edit_set_choice (button->document, (SbChoice) pending,
                        gtk_spin_button_get_value (GTK_SPIN_BUTTON (button->spin[pending])));
}

static gboolean
on_rest (gpointer user_data)
{
  SbChoicesButton *button = user_data;
  button->rest_source = 0;
  choose_pending (button);
  return G_SOURCE_REMOVE;
}

static void
on_value (GtkSpinButton *spin, SbChoicesButton *button)
{
  if (button->updating)
    return;
  int turned = 0;
  while (button->spin[turned] != GTK_WIDGET (spin))
    turned++;
  if (button->pending != turned)
    choose_pending (button);
  button->pending = turned;
  g_clear_handle_id (&button->rest_source, g_source_remove);
  button->rest_source = g_timeout_add (REST_MS, on_rest, button);
}

static const char *
word_for_zero (GtkSpinButton *spin)
{
  return g_object_get_data (G_OBJECT (spin), "zero");
}

static gboolean
on_output (GtkSpinButton *spin, gpointer user_data)
{
  if (gtk_spin_button_get_value (spin) > 0)
    return FALSE;
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (spin)), word_for_zero (spin)))
    gtk_editable_set_text (GTK_EDITABLE (spin), word_for_zero (spin));
  return TRUE;
}

static int
on_input (GtkSpinButton *spin, double *value, gpointer user_data)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (spin))));
  if (*text != '\0' && !g_str_equal (text, word_for_zero (spin)))
    return FALSE;
  *value = 0;
  return TRUE;
}

static GtkWidget *
make_spin (SbChoicesButton *button, const SbChoiceInfo *info)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (info->low, info->high, info->step);
  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), info->digits);
  gtk_spin_button_set_update_policy (GTK_SPIN_BUTTON (spin), GTK_UPDATE_IF_VALID);
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), 9);
  gtk_widget_set_tooltip_text (spin, info->explanation);
  g_autofree char *name = *info->unit != '\0' ? g_strdup_printf ("%s [%s]", info->name, info->unit) : NULL;
  gtk_accessible_update_property (GTK_ACCESSIBLE (spin), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  name != NULL ? name : info->name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  info->explanation, -1);
  if (info->zero != NULL) {
    gtk_spin_button_set_numeric (GTK_SPIN_BUTTON (spin), FALSE);
    g_object_set_data (G_OBJECT (spin), "zero", (gpointer) (guintptr) info->zero);
    gtk_editable_set_text (GTK_EDITABLE (spin), info->zero); /* it begins at 0, which is no change to be put out */
    g_signal_connect (spin, "output", G_CALLBACK (on_output), NULL);
    g_signal_connect (spin, "input", G_CALLBACK (on_input), NULL);
  }
  g_signal_connect (spin, "value-changed", G_CALLBACK (on_value), button);
  return spin;
}

static void
update (SbChoicesButton *button)
{
  if (button->spin[0] == NULL)
    return;
  const SbBench *bench = sb_document_bench (button->document);
  button->updating = TRUE;
  for (guint i = 0; i < SB_N_CHOICES; i++)
    if ((int) i != button->pending)
      gtk_spin_button_set_value (GTK_SPIN_BUTTON (button->spin[i]), sb_choice_get (bench, (SbChoice) i));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (button->steps), (guint) bench->steps);
  button->updating = FALSE;
}

static void
on_steps (GtkDropDown *steps, GParamSpec *pspec, SbChoicesButton *button)
{
  if (button->updating)
    return;
  choose_pending (button);
  sb_edit_set_steps (button->document, (SbStepsChoice) gtk_drop_down_get_selected (steps));
}

/* Below the numbers. */
static void
add_steps (SbChoicesButton *button, GtkWidget *grid)
{
  static const char *const words[] = { "each a trial", "first step only", NULL }; /* by SbStepsChoice */
  static const char explanation[] = "Of a log in which the command steps more than once, each step is a trial of its "
                                    "own, or the log is one trial of which the first step is measured.";
  GtkWidget *name = gtk_label_new ("Several steps in one log");
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_widget_set_tooltip_text (name, explanation);
  button->steps = gtk_drop_down_new_from_strings (words);
  gtk_widget_set_tooltip_text (button->steps, explanation);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button->steps), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Several steps in one log", GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, explanation, -1);
  g_signal_connect (button->steps, "notify::selected", G_CALLBACK (on_steps), button);
  gtk_grid_attach (GTK_GRID (grid), name, 0, SB_N_CHOICES, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), button->steps, 1, SB_N_CHOICES, 2, 1);
}

static GtkWidget *
make_fields (SbChoicesButton *button)
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_widget_add_css_class (grid, "choices");
  for (guint i = 0; i < SB_N_CHOICES; i++) {
    const SbChoiceInfo *info = sb_choice_info ((SbChoice) i);
    GtkWidget *name = gtk_label_new (info->name), *unit = gtk_label_new (info->unit);
    gtk_label_set_xalign (GTK_LABEL (name), 0);
    gtk_label_set_xalign (GTK_LABEL (unit), 0);
    gtk_widget_set_tooltip_text (name, info->explanation);
    button->spin[i] = make_spin (button, info);
    gtk_grid_attach (GTK_GRID (grid), name, 0, (int) i, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), button->spin[i], 1, (int) i, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), unit, 2, (int) i, 1, 1);
  }
  add_steps (button, grid);
  return grid;
}

static void
on_closed (GtkPopover *popover, SbChoicesButton *button)
{
  choose_pending (button);
}

static void
fill_popover (GtkMenuButton *menu_button, gpointer user_data)
{
  SbChoicesButton *button = user_data;
  if (button->spin[0] != NULL)
    return;
  GtkWidget *popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), make_fields (button));
  g_signal_connect (popover, "closed", G_CALLBACK (on_closed), button);
  gtk_menu_button_set_popover (menu_button, popover);
  update (button);
}

static void
sb_choices_button_dispose (GObject *object)
{
  SbChoicesButton *button = SB_CHOICES_BUTTON (object);
  g_clear_handle_id (&button->rest_source, g_source_remove);
  button->pending = -1;
  G_OBJECT_CLASS (sb_choices_button_parent_class)->dispose (object);
}

static void
sb_choices_button_class_init (SbChoicesButtonClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_choices_button_dispose;
}

static void
sb_choices_button_init (SbChoicesButton *button)
{
  button->pending = -1;
  GtkWidget *menu_button = button->menu_button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (menu_button), "Choices");
  gtk_widget_set_tooltip_text (menu_button, "Choose margin, windows and bands of the measures");
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (menu_button), fill_popover, button, NULL);
  gtk_box_append (GTK_BOX (button), menu_button);
}

void
sb_choices_button_open (SbChoicesButton *button)
{
  sb_menu_open (button->menu_button);
}

GtkWidget *
sb_choices_button_new (SbDocument *document)
{
  SbChoicesButton *button = g_object_new (SB_TYPE_CHOICES_BUTTON, NULL);
  button->document = document;
  g_signal_connect_object (document, "bench-changed", G_CALLBACK (update), button, G_CONNECT_SWAPPED);
  return GTK_WIDGET (button);
}

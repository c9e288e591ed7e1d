/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figures_pane.h"

#include "drive_view.h"

struct _SbFiguresPane {
  GtkBox parent_instance;
  GtkWidget *stack, *measures, *drive, *judgements;
};

G_DEFINE_FINAL_TYPE (SbFiguresPane, sb_figures_pane, GTK_TYPE_BOX)

/* How many judgements there are is told before anyone looks at them. */
static void
show_count (SbFiguresPane *pane)
{
  guint n = sb_judgements_view_count (SB_JUDGEMENTS_VIEW (pane->judgements));
  g_autofree char *title = n > 0 ? g_strdup_printf ("Judgements (%u)", n) : g_strdup ("Judgements");
  GtkStackPage *page = gtk_stack_get_page (GTK_STACK (pane->stack), pane->judgements);
  gtk_stack_page_set_title (page, title);
}

void
sb_figures_pane_update (SbFiguresPane *pane)
{
  sb_measures_view_update (SB_MEASURES_VIEW (pane->measures));
  sb_drive_view_update (SB_DRIVE_VIEW (pane->drive));
  sb_judgements_view_update (SB_JUDGEMENTS_VIEW (pane->judgements));
  show_count (pane);
}

gboolean
sb_figures_pane_step (SbFiguresPane *pane)
{
  return sb_measures_view_step (SB_MEASURES_VIEW (pane->measures))
         || sb_judgements_view_step (SB_JUDGEMENTS_VIEW (pane->judgements));
}

SbMeasuresView *
sb_figures_pane_measures (SbFiguresPane *pane)
{
  return SB_MEASURES_VIEW (pane->measures);
}

SbJudgementsView *
sb_figures_pane_judgements (SbFiguresPane *pane)
{
  return SB_JUDGEMENTS_VIEW (pane->judgements);
}

void
sb_figures_pane_show_measures (SbFiguresPane *pane)
{
  gtk_stack_set_visible_child_name (GTK_STACK (pane->stack), "measures");
}

void
sb_figures_pane_show_judgements (SbFiguresPane *pane)
{
  gtk_stack_set_visible_child (GTK_STACK (pane->stack), pane->judgements);
}

void
sb_figures_pane_turn (SbFiguresPane *pane)
{
  if (gtk_stack_get_visible_child (GTK_STACK (pane->stack)) == pane->judgements)
    sb_figures_pane_show_measures (pane);
  else
    sb_figures_pane_show_judgements (pane);
}

/* The measures' buttons are of no use beside the judgements. */
static void
on_page (GtkStack *stack, GParamSpec *pspec, SbFiguresPane *pane)
{
  gtk_widget_set_visible (sb_measures_view_tools (SB_MEASURES_VIEW (pane->measures)),
                          gtk_stack_get_visible_child (stack) != pane->judgements);
}

static void
sb_figures_pane_class_init (SbFiguresPaneClass *klass)
{
}

static void
sb_figures_pane_init (SbFiguresPane *pane)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (pane), GTK_ORIENTATION_VERTICAL);
  pane->stack = gtk_stack_new ();
  gtk_stack_set_hhomogeneous (GTK_STACK (pane->stack), FALSE);
  gtk_widget_set_vexpand (pane->stack, TRUE);
}

static GtkWidget *
make_top (SbFiguresPane *pane)
{
  GtkWidget *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_add_css_class (top, "figures-top");
  GtkWidget *switcher = gtk_stack_switcher_new ();
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (pane->stack));
  gtk_widget_set_halign (switcher, GTK_ALIGN_START);
  gtk_widget_set_hexpand (switcher, TRUE);
  gtk_box_append (GTK_BOX (top), switcher);
  gtk_box_append (GTK_BOX (top), sb_measures_view_tools (SB_MEASURES_VIEW (pane->measures)));
  return top;
}

GtkWidget *
sb_figures_pane_new (SbDocument *document)
{
  SbFiguresPane *pane = g_object_new (SB_TYPE_FIGURES_PANE, NULL);
  pane->measures = sb_measures_view_new (document);
  pane->drive = sb_drive_view_new (document);
  pane->judgements = sb_judgements_view_new (document);
  GtkWidget *figures = gtk_paned_new (GTK_ORIENTATION_VERTICAL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (figures), GTK_ACCESSIBLE_PROPERTY_LABEL, "Measures and drive", -1);
  gtk_paned_set_start_child (GTK_PANED (figures), pane->measures);
  gtk_paned_set_end_child (GTK_PANED (figures), pane->drive);
  gtk_paned_set_resize_end_child (GTK_PANED (figures), FALSE);
  gtk_paned_set_shrink_start_child (GTK_PANED (figures), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (figures), FALSE);
  gtk_stack_add_titled (GTK_STACK (pane->stack), figures, "measures", "Measures");
  gtk_stack_add_titled (GTK_STACK (pane->stack), pane->judgements, "judgements", "Judgements");
  g_signal_connect (pane->stack, "notify::visible-child", G_CALLBACK (on_page), pane);
  gtk_box_append (GTK_BOX (pane), make_top (pane));
  gtk_box_append (GTK_BOX (pane), pane->stack);
  return GTK_WIDGET (pane);
}

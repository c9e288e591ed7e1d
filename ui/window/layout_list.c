/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_list.h"

#include "file_choice.h"
#include "layout_editor.h"
#include "layout_store.h"
#include "sheet.h"

#define WIDTH_PX  620
#define HEIGHT_PX 460
/* Of the columns of one layout. */
#define MOST_NAMES 8

struct _SbLayoutList {
  GtkWindow parent_instance;
  GPtrArray *choices;   /* SbLayoutChoice; as they were when last read */
  gboolean updating;    /* the rows are being made anew */
  GPtrArray *exporting; /* SbLayoutChoice, while a file is being chosen for them */
  GtkWidget *stack, *list, *told, *export_all;
};

G_DEFINE_FINAL_TYPE (SbLayoutList, sb_layout_list, GTK_TYPE_WINDOW)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const char *const layout_patterns[] = { "*.json", NULL };

/* What is to be done with the remembered layouts; always followed by reading them anew. */
typedef enum {
  LIST,
  RENAME,
  FORGET,
  REMEMBER, /* `choices`, or those in the file at `path` */
  EXPORT,   /* `choices` to the file at `path` */
} Act;

typedef struct {
  Act act;
  char *key, *name, *path;
  GPtrArray *choices;
} Order;

static void
order_free (gpointer data)
{
  Order *order = data;
  g_free (order->key);
  g_free (order->name);
  g_free (order->path);
  g_clear_pointer (&order->choices, g_ptr_array_unref);
  g_free (order);
}

static gboolean
carry_out (const Order *order, const char *store, GError **error)
{
  switch (order->act) {
  case LIST:
    return TRUE;
  case RENAME:
    return sb_layout_store_rename (store, order->key, order->name, error) >= 0;
  case FORGET:
    return sb_layout_store_forget (store, order->key, error) >= 0;
  case EXPORT:
    return sb_layout_file_write (order->path, order->choices, error);
  case REMEMBER: {
    g_autoptr (GPtrArray) read = order->path != NULL ? sb_layout_file_read (order->path, error) : NULL;
    const GPtrArray *choices = order->path != NULL ? read : order->choices;
    return choices != NULL && sb_layout_store_remember (store, choices, error);
  }
  }
  return FALSE;
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *store = sb_layout_store_path ();
  GPtrArray *choices = carry_out (data, store, &error) ? sb_layout_store_list (store, &error) : NULL;
  if (choices != NULL)
    g_task_return_pointer (task, choices, (GDestroyNotify) g_ptr_array_unref);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

static void show (SbLayoutList *list);

static void
worked (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SbLayoutList *list = SB_LAYOUT_LIST (source);
  const Order *order = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  GPtrArray *choices = g_task_propagate_pointer (G_TASK (result), &error);
  gtk_label_set_text (GTK_LABEL (list->told), error != NULL          ? error->message
                                              : order->act == EXPORT ? "The layouts are written."
                                                                     : "");
  gtk_widget_set_visible (list->told, *gtk_label_get_text (GTK_LABEL (list->told)) != '\0');
  if (choices == NULL)
    return;
  g_clear_pointer (&list->choices, g_ptr_array_unref);
  list->choices = choices;
  show (list);
  if (order->act != LIST && order->act != EXPORT)
    g_signal_emit (list, signals[CHANGED], 0);
}

static void
give_order (SbLayoutList *list, Order order)
{
  g_autoptr (GTask) task = g_task_new (list, NULL, worked, NULL);
  g_task_set_task_data (task, g_memdup2 (&order, sizeof order), order_free);
  g_task_run_in_thread (task, work);
}

/* By its signature where it has one: names need not be given, or be different. */
static char *
key_of (const SbLayoutChoice *choice)
{
  return choice->of_shape ? sb_layout_signature (choice->layout) : g_strdup (choice->layout->name);
}

static const SbLayoutChoice *
choice_of (GtkWidget *widget)
{
  GtkWidget *row = gtk_widget_get_ancestor (widget, GTK_TYPE_LIST_BOX_ROW);
  return g_object_get_data (G_OBJECT (row), "choice");
}

static void
take_name (GtkWidget *entry, SbLayoutList *list)
{
  if (list->updating) /* a field that is taken away with its row loses the focus */
    return;
  const SbLayoutChoice *choice = choice_of (entry);
  const char *name = gtk_editable_get_text (GTK_EDITABLE (entry));
  if (!g_str_equal (name, choice->layout->name))
    give_order (list, (Order){ .act = RENAME, .key = key_of (choice), .name = g_strdup (name) });
}

static void
on_name_activate (GtkEntry *entry, SbLayoutList *list)
{
  take_name (GTK_WIDGET (entry), list);
}

static void
on_name_left (GtkEventControllerFocus *controller, SbLayoutList *list)
{
  take_name (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller)), list);
}

static void
on_forget (GtkButton *button, SbLayoutList *list)
{
  give_order (list, (Order){ .act = FORGET, .key = key_of (choice_of (GTK_WIDGET (button))) });
}

static void
on_edited (SbLayoutEditor *editor, gpointer choice, SbLayoutList *list)
{
  GPtrArray *choices = sb_layout_choices_new ();
  g_ptr_array_add (choices, sb_layout_choice_ref (choice));
  give_order (list, (Order){ .act = REMEMBER, .choices = choices });
}

static void
on_edit (GtkButton *button, SbLayoutList *list)
{
  GtkWidget *editor = sb_layout_editor_new (GTK_WINDOW (list), choice_of (GTK_WIDGET (button)));
  g_signal_connect_object (editor, "edited", G_CALLBACK (on_edited), list, 0);
  gtk_window_present (GTK_WINDOW (editor));
}

static void
on_export_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  SbLayoutList *list = SB_LAYOUT_LIST (parent);
  give_order (list,
              (Order){ .act = EXPORT, .path = g_strdup (paths[0]), .choices = g_ptr_array_ref (list->exporting) });
}

/* Keeps `choices` (transfer full) until a file is chosen; another question replaces them. */
static void
ask_where_to_export (SbLayoutList *list, GPtrArray *choices, const char *name)
{
  g_clear_pointer (&list->exporting, g_ptr_array_unref);
  list->exporting = choices;
  g_autofree char *file = g_strdup_printf ("%s.json", *name != '\0' ? name : "column layout");
  g_strdelimit (file, "/", '-');
  SbFileQuestion question = {
    .title = "Export column layouts",
    .action = GTK_FILE_CHOOSER_ACTION_SAVE,
    .suggested_name = file,
    .ending = ".json",
    .filter_name = "Column layouts",
    .patterns = layout_patterns,
  };
  sb_file_choice_ask (GTK_WINDOW (list), &question, on_export_chosen, NULL);
}

static void
on_export (GtkButton *button, SbLayoutList *list)
{
  const SbLayoutChoice *choice = choice_of (GTK_WIDGET (button));
  GPtrArray *choices = sb_layout_choices_new ();
  g_ptr_array_add (choices, sb_layout_choice_rename (choice, choice->layout->name));
  ask_where_to_export (list, choices, choice->layout->name);
}

static void
on_export_all (GtkButton *button, SbLayoutList *list)
{
  ask_where_to_export (list, g_ptr_array_ref (list->choices), "column layouts");
}

static void
on_import_chosen (GtkWindow *parent, const char *const *paths, gpointer user_data)
{
  give_order (SB_LAYOUT_LIST (parent), (Order){ .act = REMEMBER, .path = g_strdup (paths[0]) });
}

static void
on_import (GtkButton *button, SbLayoutList *list)
{
  SbFileQuestion question = {
    .title = "Import column layouts",
    .action = GTK_FILE_CHOOSER_ACTION_OPEN,
    .filter_name = "Column layouts",
    .patterns = layout_patterns,
  };
  sb_file_choice_ask (GTK_WINDOW (list), &question, on_import_chosen, NULL);
}

/* "time_s, command, angle, …: what tells one layout from another. (transfer full) */
static char *
column_words (const SbLayoutChoice *choice)
{
  g_autoptr (GString) words = g_string_new (NULL);
  guint n = choice->layout->columns->len;
  for (guint i = 0; i < MIN (n, MOST_NAMES); i++) {
    const SbLayoutColumn *column = sb_layout_column (choice->layout, i);
    g_string_append_printf (words, "%s%s", i > 0 ? ", " : "",
                            *column->name != '\0' ? column->name : sb_role_name (column->role));
  }
  g_string_append_printf (words, "%s (%u %s)", n > MOST_NAMES ? ", …" : "", n, n == 1 ? "column" : "columns");
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
add_button (SbLayoutList *list, GtkWidget *line, const char *icon, const char *words, const char *name,
            GCallback clicked)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_autofree char *label = g_strdup_printf ("%s %s", words, name);
  gtk_widget_set_tooltip_text (button, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect (button, "clicked", clicked, list);
  gtk_box_append (GTK_BOX (line), button);
}

static GtkWidget *
make_name (SbLayoutList *list, const SbLayoutChoice *choice, const char *columns)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_text (GTK_EDITABLE (entry), choice->layout->name);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), "No name");
  g_autofree char *label = g_strdup_printf ("Name of the layout for %s", columns);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect (entry, "activate", G_CALLBACK (on_name_activate), list);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (on_name_left), list);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static GtkWidget *
make_row (SbLayoutList *list, SbLayoutChoice *choice)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *columns = column_words (choice);
  const char *name = *choice->layout->name != '\0' ? choice->layout->name : columns;
  GtkWidget *label = gtk_label_new (columns);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_tooltip_text (label, columns);
  gtk_widget_add_css_class (label, "small-text");
  gtk_widget_set_hexpand (text, TRUE);
  gtk_box_append (GTK_BOX (text), make_name (list, choice, columns));
  gtk_box_append (GTK_BOX (text), label);
  gtk_box_append (GTK_BOX (line), text);
  add_button (list, line, "document-edit-symbolic", "Edit", name, G_CALLBACK (on_edit));
  add_button (list, line, "document-save-as-symbolic", "Export", name, G_CALLBACK (on_export));
  add_button (list, line, "user-trash-symbolic", "Forget", name, G_CALLBACK (on_forget));
  GtkWidget *row = gtk_list_box_row_new ();
  g_object_set_data_full (G_OBJECT (row), "choice", sb_layout_choice_ref (choice),
                          (GDestroyNotify) sb_layout_choice_unref);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_add_css_class (row, "remembered");
  return row;
}

static void
show (SbLayoutList *list)
{
  GtkWidget *row;
  list->updating = TRUE;
  while ((row = gtk_widget_get_first_child (list->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list->list), row);
  list->updating = FALSE;
  for (guint i = 0; i < list->choices->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (list->list), make_row (list, g_ptr_array_index (list->choices, i)));
  gtk_widget_set_sensitive (list->export_all, list->choices->len > 0);
  gtk_stack_set_visible_child_name (GTK_STACK (list->stack), list->choices->len > 0 ? "list" : "none");
}

static void
sb_layout_list_finalize (GObject *object)
{
  SbLayoutList *list = SB_LAYOUT_LIST (object);
  g_clear_pointer (&list->choices, g_ptr_array_unref);
  g_clear_pointer (&list->exporting, g_ptr_array_unref);
  G_OBJECT_CLASS (sb_layout_list_parent_class)->finalize (object);
}

static void
sb_layout_list_class_init (SbLayoutListClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sb_layout_list_finalize;
  signals[CHANGED]
      = g_signal_new ("changed", SB_TYPE_LAYOUT_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
make_header (SbLayoutList *list)
{
  GtkWidget *header = gtk_header_bar_new (), *import = gtk_button_new_with_label ("Import…");
  g_signal_connect (import, "clicked", G_CALLBACK (on_import), list);
  gtk_widget_set_tooltip_text (import, "Take layouts from a file");
  list->export_all = gtk_button_new_with_label ("Export all…");
  g_signal_connect (list->export_all, "clicked", G_CALLBACK (on_export_all), list);
  gtk_widget_set_tooltip_text (list->export_all, "Write all layouts to a file for a colleague");
  gtk_widget_set_sensitive (list->export_all, FALSE);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), import);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), list->export_all);
  return header;
}

static GtkWidget *
make_body (SbLayoutList *list)
{
  list->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list->list), GTK_SELECTION_NONE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (list->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Remembered column layouts", -1);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), list->list);
  GtkWidget *none = gtk_label_new ("No layout is remembered yet. Check “Remember” on the import sheet.");
  gtk_label_set_wrap (GTK_LABEL (none), TRUE);
  gtk_widget_add_css_class (none, "dim-label");
  list->stack = gtk_stack_new ();
  gtk_stack_add_named (GTK_STACK (list->stack), gtk_label_new (NULL), "reading");
  gtk_stack_add_named (GTK_STACK (list->stack), scrolled, "list");
  gtk_stack_add_named (GTK_STACK (list->stack), none, "none");
  gtk_widget_set_vexpand (list->stack, TRUE);
  list->told = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (list->told), 0);
  gtk_label_set_wrap (GTK_LABEL (list->told), TRUE);
  gtk_widget_add_css_class (list->told, "told");
  gtk_widget_set_visible (list->told, FALSE);
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (body), list->stack);
  gtk_box_append (GTK_BOX (body), list->told);
  return body;
}

static void
sb_layout_list_init (SbLayoutList *list)
{
  gtk_window_set_titlebar (GTK_WINDOW (list), make_header (list));
  gtk_window_set_child (GTK_WINDOW (list), make_body (list));
  gtk_window_set_title (GTK_WINDOW (list), "Remembered column layouts");
  gtk_window_set_default_size (GTK_WINDOW (list), WIDTH_PX, HEIGHT_PX);
  sb_sheet_set_up (GTK_WINDOW (list));
}

GtkWidget *
sb_layout_list_new (GtkWindow *parent)
{
  SbLayoutList *list = g_object_new (SB_TYPE_LAYOUT_LIST, "transient-for", parent, NULL);
  give_order (list, (Order){ .act = LIST });
  return GTK_WIDGET (list);
}

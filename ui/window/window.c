/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window.h"

#include "actions.h"
#include "busy_strip.h"
#include "demo_folder.h"
#include "file_drop.h"
#include "import_asking.h"
#include "main_menu.h"
#include "proof_file.h"
#include "safe_keeping.h"
#include "saving.h"
#include "session.h"
#include "tooltip.h"
#include "text_scale.h"
#include "verify_sheet.h"
#include "welcome_page.h"

#define FIRST_WIDTH_PX  1280
#define LEAST_WIDTH_PX  640
#define LEAST_HEIGHT_PX 400
#define FIRST_HEIGHT_PX 720

struct _SbWindow {
  GtkApplicationWindow parent_instance;
  SbDocument *document;
  gboolean with_demo;
  GtkWidget *content, *stack, *welcome, *page; /* a page is NULL until it is shown for the first time */
  GtkWidget *next_page;                        /* made while nobody waits for it, and not shown yet; NULL else */
  GtkWidget *undo_button, *redo_button;
  GtkWidget *strip, *strip_label, *go_on_button; /* NULL until there is something to tell */
  GtkWidget *busy;                               /* NULL until the first frame is painted */
  guint complete_source;
  SbImportAsking *asking;
  SbSafeKeeping *keeping;
  gboolean closing; /* the person has been asked */
  gboolean gone;    /* nothing shows in it any more */
};

G_DEFINE_FINAL_TYPE (SbWindow, sb_window, GTK_TYPE_APPLICATION_WINDOW)

SbDocument *
sb_window_document (SbWindow *window)
{
  return window->document;
}

SbBenchPage *
sb_window_page (SbWindow *window)
{
  return window->page != NULL ? SB_BENCH_PAGE (window->page) : NULL;
}

SbSafeKeeping *
sb_window_safe_keeping (SbWindow *window)
{
  return window->keeping;
}

static void make_strip (SbWindow *window);

static void
tell (SbWindow *window, GtkMessageType type, const char *text, gboolean may_go_on)
{
  if (window->gone) /* it was closed while the work went on */
    return;
  if (window->strip == NULL)
    make_strip (window);
  gtk_label_set_text (GTK_LABEL (window->strip_label), text);
  gtk_widget_set_visible (window->go_on_button, may_go_on);
  gtk_info_bar_set_message_type (GTK_INFO_BAR (window->strip), type);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (window->strip), TRUE);
}

void
sb_window_tell (SbWindow *window, GtkMessageType type, const char *text)
{
  tell (window, type, text, FALSE);
}

void
sb_window_tell_stopped (SbWindow *window)
{
  tell (window, GTK_MESSAGE_WARNING, "Reading was stopped. What is shown is of the logs read so far.", TRUE);
}

static void
on_import_told (gboolean well, const char *what, gpointer user_data)
{
  sb_window_tell (user_data, well ? GTK_MESSAGE_INFO : GTK_MESSAGE_ERROR, what);
}

void
sb_window_show_columns (SbWindow *window, const char *path)
{
  sb_import_asking_open (window->asking, path);
}

void
sb_window_open (SbWindow *window, const char *const *paths)
{
  if (paths[0] != NULL && paths[1] == NULL && sb_proof_is_carrier_name (paths[0])) {
    gtk_window_present (GTK_WINDOW (window)); /* a sheet cannot stand over what is not there yet */
    sb_verify_sheet_present (GTK_WINDOW (window), window->document, paths[0]);
    return;
  }
  gboolean session = paths[0] != NULL && paths[1] == NULL && g_str_has_suffix (paths[0], SB_SESSION_SUFFIX);
  if (window->strip != NULL)
    gtk_info_bar_set_revealed (GTK_INFO_BAR (window->strip), FALSE);
  SbDocument *document = window->document;
  if (session && sb_bench_is_empty (sb_document_bench (document)) && sb_document_undo_step (document) == NULL)
    sb_document_open (window->document, paths[0]);
  else
    sb_document_add (window->document, paths);
}

static void
update_title (SbWindow *window)
{
  if (sb_bench_is_empty (sb_document_bench (window->document)) && sb_document_path (window->document) == NULL) {
    gtk_window_set_title (GTK_WINDOW (window), "Slewbench");
    return;
  }
  g_autofree char *name = sb_document_name (window->document);
  const char *mark = sb_document_is_saved (window->document) ? "" : "• ";
  g_autofree char *title = g_strdup_printf ("%s%s – Slewbench", mark, name);
  gtk_window_set_title (GTK_WINDOW (window), title);
}

static void
update_step (GtkWidget *button, const char *word, const char *step)
{
  g_autofree char *text = step != NULL ? g_strdup_printf ("%s: %s", word, step) : g_strdup (word);
  sb_tooltip_set (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

/* Its many widgets take longer to make than a frame lasts. */
static void
make_next_page (SbWindow *window)
{
  if (window->page == NULL && window->next_page == NULL)
    window->next_page = g_object_ref_sink (sb_bench_page_new (window->document, FIRST_WIDTH_PX));
}

static void
show_bench_page (SbWindow *window)
{
  if (window->page == NULL) {
    make_next_page (window);
    window->page = window->next_page;
    sb_bench_page_expect_width (SB_BENCH_PAGE (window->page), gtk_widget_get_width (GTK_WIDGET (window)));
    gtk_stack_add_named (GTK_STACK (window->stack), window->page, "bench");
    g_clear_object (&window->next_page);
  }
  gtk_stack_set_visible_child (GTK_STACK (window->stack), window->page);
}

static void
show_welcome_page (SbWindow *window)
{
  if (window->welcome == NULL) {
    window->welcome = sb_welcome_page_new (window->with_demo);
    gtk_stack_add_named (GTK_STACK (window->stack), window->welcome, "welcome");
  }
  gtk_stack_set_visible_child (GTK_STACK (window->stack), window->welcome);
}

/* A window that is given logs to begin with shows the bench at once, waiting for them. */
static void
update_page (SbWindow *window)
{
  gsize n_done, n_total;
  gboolean empty = sb_bench_is_empty (sb_document_bench (window->document));
  gboolean beginning = window->welcome == NULL && sb_document_busy (window->document, &n_done, &n_total);
  if (!empty || beginning)
    show_bench_page (window);
  else
    show_welcome_page (window);
}

static void
on_bench_changed (SbDocument *document, SbWindow *window)
{
  update_page (window);
  update_title (window);
  update_step (window->undo_button, "Undo", sb_document_undo_step (document));
  update_step (window->redo_button, "Redo", sb_document_redo_step (document));
  sb_actions_update (window);
}

static void
on_results_changed (SbDocument *document, SbWindow *window)
{
  sb_actions_update (window);
}

static void
on_failed (SbDocument *document, const char *what, SbWindow *window)
{
  sb_window_tell (window, GTK_MESSAGE_ERROR, what);
}

static void
on_stopped (SbDocument *document, SbWindow *window)
{
  sb_window_tell_stopped (window);
}

static void
on_busy_changed (SbDocument *document, SbWindow *window)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (window)))
    update_page (window);
}

static void
on_strip_response (GtkInfoBar *strip, int response, SbWindow *window)
{
  gtk_info_bar_set_revealed (strip, FALSE);
  if (response == GTK_RESPONSE_ACCEPT)
    gtk_widget_activate_action (GTK_WIDGET (window), "win.go-on", NULL);
}

static void
make_strip (SbWindow *window)
{
  window->strip = gtk_info_bar_new ();
  window->strip_label = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (window->strip_label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (window->strip_label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (window->strip_label), 0);
  gtk_label_set_selectable (GTK_LABEL (window->strip_label), TRUE);
  gtk_widget_set_focusable (window->strip_label, FALSE);
  gtk_widget_set_hexpand (window->strip_label, TRUE);
  gtk_info_bar_add_child (GTK_INFO_BAR (window->strip), window->strip_label);
  window->go_on_button = gtk_info_bar_add_button (GTK_INFO_BAR (window->strip), "Read the rest", GTK_RESPONSE_ACCEPT);
  gtk_info_bar_set_show_close_button (GTK_INFO_BAR (window->strip), TRUE);
  gtk_info_bar_set_revealed (GTK_INFO_BAR (window->strip), FALSE);
  g_signal_connect (window->strip, "response", G_CALLBACK (on_strip_response), window);
  gtk_box_prepend (GTK_BOX (window->content), window->strip);
}

static GtkWidget *
make_icon_button (const char *icon, const char *action, const char *label)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_tooltip_text (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return button;
}

/* When it is opened for the first time. */
static void
fill_menu (GtkMenuButton *button, gpointer user_data)
{
  SbWindow *window = user_data;
  if (gtk_menu_button_get_menu_model (button) != NULL)
    return;
  g_autoptr (GMenuModel) model = sb_main_menu_new (window->with_demo);
  gtk_menu_button_set_menu_model (button, model);
}

static GtkWidget *
make_header (SbWindow *window)
{
  GtkWidget *header = gtk_header_bar_new ();
  GtkWidget *open = gtk_button_new_with_label ("Open…");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (open), "win.open");
  gtk_widget_set_tooltip_text (open, "Open logs or a session (Ctrl+O)");
  window->undo_button = make_icon_button ("edit-undo-symbolic", "win.undo", "Undo");
  window->redo_button = make_icon_button ("edit-redo-symbolic", "win.redo", "Redo");
  GtkWidget *export = gtk_button_new_with_label ("Export…");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (export), "win.export");
  gtk_widget_set_tooltip_text (export, "Export the chart (Ctrl+E)");
  GtkWidget *menu = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (menu), "open-menu-symbolic");
  gtk_menu_button_set_primary (GTK_MENU_BUTTON (menu), TRUE);
  gtk_widget_set_tooltip_text (menu, "Menu (F10)");
  gtk_accessible_update_property (GTK_ACCESSIBLE (menu), GTK_ACCESSIBLE_PROPERTY_LABEL, "Menu", -1);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (menu), fill_menu, window, NULL);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), open);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), window->undo_button);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), window->redo_button);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), menu);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), export);
  return header;
}

/* Text that is much larger than usual asks for more room than the screen may have: the window stays on the screen, and
 * what is beyond its edge is scrolled to, also by the keys that go there. */
static GtkWidget *
make_scrolled (GtkWidget *content)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), content);
  gtk_scrolled_window_set_min_content_width (GTK_SCROLLED_WINDOW (scrolled), LEAST_WIDTH_PX);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), LEAST_HEIGHT_PX);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static GtkWidget *
make_content (SbWindow *window)
{
  window->stack = gtk_stack_new ();
  window->content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (window->content), make_scrolled (window->stack));
  GtkWidget *overlay = gtk_overlay_new ();
  gtk_overlay_set_child (GTK_OVERLAY (overlay), window->content);
  sb_file_drop_accept (GTK_OVERLAY (overlay), window);
  return overlay;
}

static gboolean
complete (gpointer user_data)
{
  SbWindow *window = user_data;
  window->complete_source = 0;
  if (window->busy == NULL) {
    window->busy = sb_busy_strip_new (window->document);
    gtk_box_append (GTK_BOX (window->content), window->busy);
    window->complete_source = g_idle_add_full (G_PRIORITY_LOW, complete, window, NULL);
    return G_SOURCE_REMOVE;
  }
  make_next_page (window);
  sb_safe_keeping_look (window->keeping);
  return G_SOURCE_REMOVE;
}

/* Which page comes first is known only now; what the first frame does not show is made after it. */
static void
sb_window_map (GtkWidget *widget)
{
  SbWindow *window = SB_WINDOW (widget);
  update_page (window);
  GTK_WIDGET_CLASS (sb_window_parent_class)->map (widget);
  if (window->complete_source == 0)
    window->complete_source = g_idle_add_full (G_PRIORITY_LOW, complete, window, NULL);
}

static gboolean
sb_window_close_request (GtkWindow *gtk_window)
{
  SbWindow *window = SB_WINDOW (gtk_window);
  SbDocument *document = window->document;
  if (!window->closing && sb_document_has_unsaved_work (document)) {
    sb_saving_ask_before_close (window);
    return GDK_EVENT_STOP;
  }
  sb_safe_keeping_end (window->keeping);
  sb_document_close (document);
  return GTK_WINDOW_CLASS (sb_window_parent_class)->close_request (gtk_window);
}

void
sb_window_close_now (SbWindow *window)
{
  window->closing = TRUE;
  gtk_window_close (GTK_WINDOW (window));
}

static void
sb_window_dispose (GObject *object)
{
  SbWindow *window = SB_WINDOW (object);
  window->gone = TRUE;
  g_clear_handle_id (&window->complete_source, g_source_remove);
  g_clear_object (&window->next_page);
  g_clear_pointer (&window->asking, sb_import_asking_free);
  g_clear_pointer (&window->keeping, sb_safe_keeping_free);
  if (window->document != NULL) {
    g_signal_handlers_disconnect_by_data (window->document, window);
    sb_document_close (window->document);
  }
  G_OBJECT_CLASS (sb_window_parent_class)->dispose (object);
}

static void
sb_window_finalize (GObject *object)
{
  g_clear_object (&SB_WINDOW (object)->document);
  G_OBJECT_CLASS (sb_window_parent_class)->finalize (object);
}

static void
sb_window_class_init (SbWindowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_window_finalize;
  GTK_WIDGET_CLASS (klass)->map = sb_window_map;
  GTK_WINDOW_CLASS (klass)->close_request = sb_window_close_request;
}

static void
sb_window_init (SbWindow *window)
{
  g_autofree char *demo = sb_demo_folder_find ();
  window->document = sb_document_new ();
  window->with_demo = demo != NULL;
  gtk_window_set_titlebar (GTK_WINDOW (window), make_header (window));
  gtk_window_set_child (GTK_WINDOW (window), make_content (window));
  /* The toolkit takes what the screen has no room for off again. */
  gtk_window_set_default_size (GTK_WINDOW (window), sb_text_scale_px (GTK_WIDGET (window), FIRST_WIDTH_PX),
                               sb_text_scale_px (GTK_WIDGET (window), FIRST_HEIGHT_PX));
  gtk_window_set_icon_name (GTK_WINDOW (window), "org.slewbench.Slewbench");
  update_title (window);
  g_signal_connect (window->document, "bench-changed", G_CALLBACK (on_bench_changed), window);
  g_signal_connect (window->document, "results-changed", G_CALLBACK (on_results_changed), window);
  g_signal_connect (window->document, "busy-changed", G_CALLBACK (on_busy_changed), window);
  g_signal_connect (window->document, "failed", G_CALLBACK (on_failed), window);
  g_signal_connect (window->document, "stopped", G_CALLBACK (on_stopped), window);
  window->keeping = sb_safe_keeping_new (window, GTK_BOX (window->content));
  window->asking = sb_import_asking_new (GTK_WINDOW (window), window->document, on_import_told, window);
}

GtkWidget *
sb_window_new (GtkApplication *application)
{
  SbWindow *window = g_object_new (SB_TYPE_WINDOW, "application", application, NULL);
  sb_actions_install (window, application);
  return GTK_WIDGET (window);
}

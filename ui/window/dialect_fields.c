/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "dialect_fields.h"

#include "layout_values.h"

#include "head_lines.h"
#include "layout_words.h"
#include "number_entry.h"

#include <math.h>
#include <string.h>

typedef enum {
  DELIMITER,
  DECIMAL,
  THOUSANDS,
  QUOTE,
  ENCODING,
  COMMENT,
  HEADER,
  UNITS,
  TABLE,
  N_FIELDS,
} Field;

static const char *const names[N_FIELDS] = {
  [DELIMITER] = "Delimiter", [DECIMAL] = "Decimal sign", [THOUSANDS] = "Thousands",
  [QUOTE] = "Quotes",        [ENCODING] = "Encoding",    [COMMENT] = "Comments begin",
  [HEADER] = "Header",       [UNITS] = "Units row",      [TABLE] = "Table",
};

/* What can be chosen beside what was found; the index in a field is one more. */
static const char delimiters[] = { ',', ';', '\t', '|', ' ' };
static const char decimals[] = { '.', ',' };
static const char thousands[] = { 0, ',', '.', '\'', ' ' };
static const char quotes[] = { '"', '\'', 0 };
static const char *const comments[] = { "", "#", "%", "//", ";" };

struct _SbDialectFields {
  GtkBox parent_instance;
  GtkWidget *box[N_FIELDS], *field[N_FIELDS];
  GtkWidget *rate_box, *rate;
  guint64 first_line; /* that the header can be chosen from */
  guint n_lines, n_tables;
  gint64 units_line[3];               /* what can be chosen for the units row, as in SbDialectChoices */
  gboolean updating, rate_is_written; /* by the person, and not taken over yet */
};

G_DEFINE_FINAL_TYPE (SbDialectFields, sb_dialect_fields, GTK_TYPE_BOX)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_selected (GtkDropDown *field, GParamSpec *pspec, SbDialectFields *fields)
{
  if (!fields->updating)
    g_signal_emit (fields, signals[CHANGED], 0);
}

/* `found` is what the program found, or NULL while something else is fixed and nobody looked. */
static void
set_items (SbDialectFields *fields, Field field, const char *found, GPtrArray *items, guint selected)
{
  /* Where words may be cut, the number of the table goes first. */
  g_autofree char *first = g_strdup_printf (field == TABLE ? "%s (found)" : "found: %s", found);
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  g_ptr_array_add (all, first);
  for (guint i = 0; i < items->len; i++)
    g_ptr_array_add (all, g_ptr_array_index (items, i));
  g_ptr_array_add (all, NULL);
  g_autoptr (GtkStringList) model = gtk_string_list_new ((const char *const *) all->pdata);
  gtk_drop_down_set_model (GTK_DROP_DOWN (fields->field[field]), G_LIST_MODEL (model));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (fields->field[field]), selected);
}

static const char *
word_of (SbWordKind kind, char sign)
{
  const char *word = sb_sign_word (kind, sign);
  return word != NULL ? word : "none";
}

static void
show_sign (SbDialectFields *fields, Field field, SbWordKind kind, const char *signs, guint n_signs, char found,
           int fixed)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_free);
  guint selected = 0;
  for (guint i = 0; i < n_signs; i++) {
    g_ptr_array_add (items, g_strdup (word_of (kind, signs[i])));
    if (fixed == signs[i])
      selected = i + 1;
  }
  set_items (fields, field, word_of (kind, found), items, selected);
}

static void
show_encoding (SbDialectFields *fields, SbEncoding found, int fixed)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < SB_N_ENCODINGS; i++)
    g_ptr_array_add (items, g_strdup (sb_encoding_name ((SbEncoding) i)));
  set_items (fields, ENCODING, sb_encoding_name (found), items, (guint) (fixed + 1));
}

static void
show_comment (SbDialectFields *fields, const char *found, const char *fixed)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_free);
  guint selected = 0;
  for (guint i = 0; i < G_N_ELEMENTS (comments); i++) {
    g_ptr_array_add (items, g_strdup (*comments[i] != '\0' ? comments[i] : "never"));
    if (g_strcmp0 (fixed, comments[i]) == 0)
      selected = i + 1;
  }
  set_items (fields, COMMENT, *found != '\0' ? found : "never", items, selected);
}

static char *
line_words (gint64 line)
{
  return line > 0 ? g_strdup_printf ("line %" G_GINT64_FORMAT, line) : g_strdup ("none");
}

static void
show_header (SbDialectFields *fields, const SbProposal *proposal, gint64 fixed)
{
  guint64 line = proposal->layout->header_line;
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (items, g_strdup ("none"));
  fields->first_line = proposal->first_shown_line;
  fields->n_lines = proposal->lines->len;
  guint selected = fixed == 0 ? 1 : 0;
  for (guint i = 0; i < fields->n_lines; i++) {
    g_ptr_array_add (items, line_words ((gint64) (fields->first_line + i)));
    if (fixed > 0 && (guint64) fixed == fields->first_line + i)
      selected = i + 2;
  }
  g_autofree char *found = line_words ((gint64) line);
  set_items (fields, HEADER, found, items, selected);
}

/* A units row stands right below the header: the line found there, or the first row when none was; 0 when
 * there is no line that could be. */
static gint64
line_below_header (const SbProposal *proposal)
{
  const SbLayout *found = proposal->layout;
  if (found->units_line > 0 || found->header_line == 0)
    return (gint64) found->units_line;
  for (guint i = 0; i < proposal->lines->len; i++) {
    guint64 line = proposal->first_shown_line + i;
    if (line >= found->first_line
        && sb_head_line_use (found, NULL, line, g_ptr_array_index (proposal->lines, i)) == SB_LINE_ROW)
      return (gint64) line;
  }
  return 0;
}

static void
show_units (SbDialectFields *fields, const SbProposal *proposal, gint64 fixed)
{
  gint64 below = line_below_header (proposal);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_free);
  guint n = 0, selected = 0;
  fields->units_line[n++] = 0;
  if (below > 0)
    fields->units_line[n++] = below;
  if (fixed > 0 && fixed != below)
    fields->units_line[n++] = fixed; /* it was stated for a file with another header, and stays stated */
  for (guint i = 0; i < n; i++) {
    g_ptr_array_add (items, line_words (fields->units_line[i]));
    if (fixed == fields->units_line[i])
      selected = i + 1;
  }
  g_autofree char *words = line_words ((gint64) proposal->layout->units_line);
  set_items (fields, UNITS, words, items, selected);
}

static char *
table_words (const SbProposal *proposal, guint index)
{
  if (index >= proposal->tables->len)
    return g_strdup_printf ("%u", index + 1); /* met while the rows were read */
  const SbTable *table = g_ptr_array_index (proposal->tables, index);
  return *table->title != '\0' ? g_strdup_printf ("%u: %s", index + 1, table->title)
                               : g_strdup_printf ("%u, from line %" G_GUINT64_FORMAT, index + 1,
                                                  table->header_line > 0 ? table->header_line : table->first_line);
}

static void
show_tables (SbDialectFields *fields, const SbProposal *proposal, int fixed, guint n_tables)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_free);
  fields->n_tables = MAX (proposal->tables->len, n_tables);
  for (guint i = 0; i < fields->n_tables; i++)
    g_ptr_array_add (items, table_words (proposal, i));
  guint found = proposal->layout->table;
  set_items (fields, TABLE, found < items->len ? g_ptr_array_index (items, found) : "the first", items,
             (guint) (fixed + 1));
  gtk_widget_set_visible (fields->box[TABLE], fields->n_tables > 1);
}

void
sb_dialect_fields_show_tables (SbDialectFields *fields, const SbImportDraft *draft, const SbProposal *proposal,
                               guint n_tables)
{
  fields->updating = TRUE;
  show_tables (fields, proposal, draft->fixed.table, n_tables);
  fields->updating = FALSE;
}

/* NaN when it is no rate. */
static double
rate_of (SbDialectFields *fields)
{
  double rate_hz = sb_number_entry_get (fields->rate);
  return sb_layout_value_takes (SB_LAYOUT_SAMPLE_RATE, SB_ROLE_TIME, rate_hz) ? rate_hz : (double) NAN;
}

static void
mark_rate (SbDialectFields *fields)
{
  if (isnan (rate_of (fields)) && !sb_number_entry_is_empty (fields->rate))
    gtk_widget_add_css_class (fields->rate, "error");
  else
    gtk_widget_remove_css_class (fields->rate, "error");
}

static void
on_rate (GtkEditable *entry, SbDialectFields *fields)
{
  mark_rate (fields);
  if (fields->updating)
    return;
  fields->rate_is_written = TRUE;
  g_signal_emit (fields, signals[CHANGED], 0);
}

/* What a person is writing stays as it is written. */
void
sb_dialect_fields_show_rate (SbDialectFields *fields, const SbImportDraft *draft)
{
  double shown = rate_of (fields), rate_hz = draft->layout != NULL ? draft->layout->sample_rate_hz : (double) NAN;
  gtk_widget_set_visible (fields->rate_box, sb_import_draft_wants_rate (draft));
  if (isnan (rate_hz) || (shown >= rate_hz && shown <= rate_hz))
    return;
  gboolean before = fields->updating;
  fields->updating = TRUE;
  sb_number_entry_set (fields->rate, rate_hz);
  fields->updating = before;
}

void
sb_dialect_fields_show (SbDialectFields *fields, const SbImportDraft *draft, const SbProposal *proposal)
{
  const SbDialectChoices *fixed = &draft->fixed;
  const SbLayout *found = proposal->layout;
  fields->updating = TRUE;
  show_sign (fields, DELIMITER, SB_WORD_DELIMITER, delimiters, G_N_ELEMENTS (delimiters), found->delimiter,
             fixed->delimiter != 0 ? fixed->delimiter : SB_AUTOMATIC);
  show_sign (fields, DECIMAL, SB_WORD_DECIMAL, decimals, G_N_ELEMENTS (decimals), found->decimal,
             fixed->decimal != 0 ? fixed->decimal : SB_AUTOMATIC);
  show_sign (fields, THOUSANDS, SB_WORD_THOUSANDS, thousands, G_N_ELEMENTS (thousands), found->thousands,
             fixed->thousands);
  show_sign (fields, QUOTE, SB_WORD_QUOTE, quotes, G_N_ELEMENTS (quotes), found->quote, fixed->quote);
  show_encoding (fields, found->encoding, fixed->encoding);
  show_comment (fields, found->comment_prefix, fixed->comment_prefix);
  show_header (fields, proposal, fixed->header_line);
  show_units (fields, proposal, fixed->units_line);
  show_tables (fields, proposal, fixed->table, 0);
  sb_dialect_fields_show_rate (fields, draft);
  fields->updating = FALSE;
}

/* -1: what was found. */
static int
chosen (const SbDialectFields *fields, Field field)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (fields->field[field]));
  return selected == GTK_INVALID_LIST_POSITION ? -1 : (int) selected - 1;
}

void
sb_dialect_fields_take (SbDialectFields *fields, SbImportDraft *draft)
{
  int delimiter = chosen (fields, DELIMITER), decimal = chosen (fields, DECIMAL), group = chosen (fields, THOUSANDS);
  int quote = chosen (fields, QUOTE), comment = chosen (fields, COMMENT), header = chosen (fields, HEADER);
  int units = chosen (fields, UNITS);
  gint64 header_line = header <= 0 ? header : (gint64) fields->first_line + header - 1;
  gboolean moved = header_line != draft->fixed.header_line;
  draft->fixed.delimiter = delimiter >= 0 ? delimiters[delimiter] : 0;
  draft->fixed.decimal = decimal >= 0 ? decimals[decimal] : 0;
  draft->fixed.thousands = group >= 0 ? thousands[group] : SB_AUTOMATIC;
  draft->fixed.quote = quote >= 0 ? (unsigned char) quotes[quote] : SB_AUTOMATIC;
  draft->fixed.encoding = chosen (fields, ENCODING);
  draft->fixed.header_line = header_line;
  /* A line stated for the row below one header says nothing of the row below another. */
  draft->fixed.units_line
      = units >= 0 && (fields->units_line[units] == 0 || !moved) ? fields->units_line[units] : SB_AUTOMATIC;
  draft->fixed.table = chosen (fields, TABLE);
  sb_import_draft_fix_comment_prefix (draft, comment >= 0 ? comments[comment] : NULL);
  /* A rate that is shown and was found is not confirmed by another choice. */
  if (fields->rate_is_written && sb_import_draft_wants_rate (draft))
    sb_import_draft_set_rate (draft, rate_of (fields));
  fields->rate_is_written = FALSE;
}

static void
sb_dialect_fields_class_init (SbDialectFieldsClass *klass)
{
  signals[CHANGED]
      = g_signal_new ("changed", SB_TYPE_DIALECT_FIELDS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
set_up_title (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer unused)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (label), 4);
  gtk_list_item_set_child (item, label);
}

static void
bind_title (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer unused)
{
  const char *title = gtk_string_object_get_string (gtk_list_item_get_item (item));
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)), title);
}

/* The titles of tables are as long as the file makes them: they must not widen the sheet. */
static void
let_titles_be_cut (GtkDropDown *field)
{
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (set_up_title), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_title), NULL);
  gtk_drop_down_set_factory (field, factory);
}

static void
add_rate (SbDialectFields *fields)
{
  static const char name_of_rate[] = "Sample rate [Hz]";
  fields->rate_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *name = gtk_label_new (name_of_rate);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_widget_add_css_class (name, "field-name");
  fields->rate = sb_number_entry_new ();
  gtk_accessible_update_property (GTK_ACCESSIBLE (fields->rate), GTK_ACCESSIBLE_PROPERTY_LABEL, name_of_rate, -1);
  gtk_widget_set_tooltip_text (fields->rate,
                               "No column is the time: each row is one sample, so many of them in a second.");
  g_signal_connect (fields->rate, "changed", G_CALLBACK (on_rate), fields);
  gtk_box_append (GTK_BOX (fields->rate_box), name);
  gtk_box_append (GTK_BOX (fields->rate_box), fields->rate);
  gtk_box_append (GTK_BOX (fields), fields->rate_box);
  gtk_widget_set_visible (fields->rate_box, FALSE);
}

static void
sb_dialect_fields_init (SbDialectFields *fields)
{
  static const char *const nothing[] = { NULL };
  gtk_box_set_spacing (GTK_BOX (fields), 6);
  for (guint i = 0; i < N_FIELDS; i++) {
    fields->box[i] = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
    GtkWidget *name = gtk_label_new (names[i]);
    gtk_label_set_xalign (GTK_LABEL (name), 0);
    gtk_widget_add_css_class (name, "field-name");
    fields->field[i] = gtk_drop_down_new_from_strings (nothing);
    gtk_accessible_update_property (GTK_ACCESSIBLE (fields->field[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, names[i], -1);
    g_signal_connect (fields->field[i], "notify::selected", G_CALLBACK (on_selected), fields);
    gtk_box_append (GTK_BOX (fields->box[i]), name);
    gtk_box_append (GTK_BOX (fields->box[i]), fields->field[i]);
    gtk_widget_set_hexpand (fields->box[i], TRUE);
    gtk_box_append (GTK_BOX (fields), fields->box[i]);
  }
  add_rate (fields);
  let_titles_be_cut (GTK_DROP_DOWN (fields->field[TABLE]));
  gtk_widget_set_visible (fields->box[TABLE], FALSE);
}

GtkWidget *
sb_dialect_fields_new (void)
{
  return g_object_new (SB_TYPE_DIALECT_FIELDS, NULL);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number_entry.h"

#include <math.h>

GtkWidget *
sb_number_entry_new (void)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_entry_set_input_purpose (GTK_ENTRY (entry), GTK_INPUT_PURPOSE_NUMBER);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  return entry;
}

void
sb_number_entry_set (GtkWidget *entry, double number)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  gtk_editable_set_text (GTK_EDITABLE (entry), g_ascii_formatd (text, sizeof text, "%.10g", number));
}

static char *
text_of (GtkWidget *entry)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
}

double
sb_number_entry_get (GtkWidget *entry)
{
  g_autofree char *text = text_of (entry);
  g_strdelimit (text, ",", '.');
  char *rest;
  double number = g_ascii_strtod (text, &rest);
  return rest != text && *rest == '\0' && isfinite (number) ? number : (double) NAN;
}

gboolean
sb_number_entry_is_empty (GtkWidget *entry)
{
  g_autofree char *text = text_of (entry);
  return *text == '\0';
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "json_members.h"
#include "layout_store.h"

#include <stdio.h>
#include <string.h>

static SbExitStatus
fail (const GError *error)
{
  g_printerr ("slewbench: %s\n", error->message);
  return SB_EXIT_NOTHING;
}

/* "time, torque, angle": the roles of its columns. (transfer full) */
static char *
roles_text (const SbLayout *layout)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < layout->columns->len; i++) {
    SbRole role = sb_layout_column (layout, i)->role;
    if (role != SB_ROLE_OTHER)
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", sb_role_key (role));
  }
  return g_string_free (text, FALSE);
}

static SbExitStatus
list_layouts (const char *path, char **arguments)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) choices = sb_layout_store_list (path, &error);
  if (choices == NULL)
    return fail (error);
  for (guint i = 0; i < choices->len; i++) {
    const SbLayout *layout = ((const SbLayoutChoice *) g_ptr_array_index (choices, i))->layout;
    g_autofree char *signature = sb_layout_signature (layout), *roles = roles_text (layout);
    printf ("%s  %s%s%s\n", signature, layout->name, layout->name[0] != '\0' ? ": " : "", roles);
  }
  return SB_EXIT_DONE;
}

/* The remembered layouts with these keys, all when there is none; NULL, said on stderr, when one is not there. */
static GPtrArray *
choose (const char *path, char **keys)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) all = sb_layout_store_list (path, &error);
  if (all == NULL) {
    fail (error);
    return NULL;
  }
  if (keys[0] == NULL)
    return g_steal_pointer (&all);
  g_autoptr (GPtrArray) chosen = sb_layout_choices_new ();
  for (gsize k = 0; keys[k] != NULL; k++) {
    guint n;
    int index = sb_layout_store_find (all, keys[k], &n);
    if (index < 0) {
      g_printerr ("slewbench: %s remembered layout is called '%s'; 'slewbench layouts list' lists them.\n",
                  n == 0 ? "no" : "more than one", keys[k]);
      return NULL;
    }
    g_ptr_array_add (chosen, sb_layout_choice_ref (g_ptr_array_index (all, (guint) index)));
  }
  return g_steal_pointer (&chosen);
}

static SbExitStatus
show_layouts (const char *path, char **keys)
{
  g_autoptr (GPtrArray) chosen = choose (path, keys);
  if (chosen == NULL)
    return SB_EXIT_NOTHING;
  g_autofree char *text = sb_layout_file_text (chosen);
  fputs (text, stdout);
  return SB_EXIT_DONE;
}

static SbExitStatus
export_layouts (const char *path, char **arguments)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) chosen = choose (path, arguments + 1);
  if (chosen == NULL)
    return SB_EXIT_NOTHING;
  if (chosen->len == 0) {
    g_printerr ("slewbench: no layout is remembered yet, so there is none to export.\n");
    return SB_EXIT_NOTHING;
  }
  return sb_layout_file_write (arguments[0], chosen, &error) ? SB_EXIT_DONE : fail (error);
}

static SbExitStatus
import_layouts (const char *path, char **files)
{
  g_autoptr (GError) error = NULL;
  for (gsize i = 0; files[i] != NULL; i++) {
    g_autoptr (GPtrArray) choices = sb_layout_file_read (files[i], &error);
    if (choices == NULL || !sb_layout_store_remember (path, choices, &error))
      return fail (error);
  }
  return SB_EXIT_DONE;
}

static SbExitStatus
tell_change (int n, const char *key, const GError *error)
{
  if (n < 0)
    return fail (error);
  if (n > 0)
    return SB_EXIT_DONE;
  g_printerr ("slewbench: no remembered layout is called '%s'; 'slewbench layouts list' lists them.\n", key);
  return SB_EXIT_NOTHING;
}

static SbExitStatus
rename_layout (const char *path, char **arguments)
{
  g_autoptr (GError) error = NULL;
  return tell_change (sb_layout_store_rename (path, arguments[0], arguments[1], &error), arguments[0], error);
}

static SbExitStatus
forget_layouts (const char *path, char **keys)
{
  for (gsize i = 0; keys[i] != NULL; i++) {
    g_autoptr (GError) error = NULL;
    SbExitStatus status = tell_change (sb_layout_store_forget (path, keys[i], &error), keys[i], error);
    if (status != SB_EXIT_DONE)
      return status;
  }
  return SB_EXIT_DONE;
}

static const struct {
  const char *name, *use;
  SbExitStatus (*run) (const char *path, char **arguments);
  guint least, most; /* how many arguments */
} actions[] = {
  { "list", "list", list_layouts, 0, 0 },
  { "show", "show [KEY...]", show_layouts, 0, G_MAXUINT },
  { "rename", "rename KEY NAME", rename_layout, 2, 2 },
  { "forget", "forget KEY...", forget_layouts, 1, G_MAXUINT },
  { "export", "export FILE [KEY...]", export_layouts, 1, G_MAXUINT },
  { "import", "import FILE...", import_layouts, 1, G_MAXUINT },
};

static SbExitStatus
run_action (char **arguments)
{
  g_autofree char *path = sb_layout_store_path ();
  guint n = g_strv_length (arguments) - 1;
  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++) {
    if (strcmp (actions[i].name, arguments[0]) != 0)
      continue;
    if (n < actions[i].least || n > actions[i].most)
      return sb_arguments_wrong ("layouts", "it is 'slewbench layouts %s'.", actions[i].use);
    return actions[i].run (path, arguments + 1);
  }
  return sb_arguments_wrong ("layouts", "there is no '%s' of layouts.", arguments[0]);
}

SbExitStatus
sb_command_layouts (char **arguments)
{
  g_auto (GStrv) words = NULL;
  GOptionEntry entries[] = {
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &words, NULL, NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_autoptr (GString) summary = g_string_new ("The layouts that the window remembers, one for each shape of logs:\n");
  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    g_string_append_printf (summary, "\n  slewbench layouts %s", actions[i].use);
  g_string_append (summary, "\n\nKEY is a name, a signature or the beginning of one. FILE is a layout file "
                            "(docs/layout-file.md); an imported\nlayout takes the place of that of its shape.");
  g_autoptr (GOptionContext) context = g_option_context_new ("ACTION [ARGUMENT...] - remembered layouts");
  g_option_context_set_summary (context, summary->str);
  g_option_context_add_main_entries (context, entries, NULL);
  if (!sb_arguments_parse (context, "layouts", arguments))
    return SB_EXIT_USAGE;
  if (words == NULL)
    return sb_arguments_wrong ("layouts", "say what: list, show, rename, forget, export or import.");
  return run_action (words);
}

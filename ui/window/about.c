/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"

void
sb_about_present (GtkWindow *parent)
{
  gtk_show_about_dialog (parent, "program-name", "Slewbench", "version", SB_VERSION, "logo-icon-name",
                         "org.slewbench.Slewbench", "license-type", GTK_LICENSE_GPL_3_0, "comments",
                         "From a pile of logged repeat tests to a comparison of two configurations that a sceptical "
                         "reader can check.\n\nSlewbench reads logs; it drives no motor. At the bench: hands clear of "
                         "the rim, an emergency stop within reach, power off before touching, start at low torque.",
                         NULL);
}

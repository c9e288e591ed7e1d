/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "seen_part.h"

#define EDGE_PX 32 /* shadows and rings of focus reach over the edge of a widget */

gboolean
sb_seen_part_note (GtkWidget *part, GtkWidget *view)
{
  graphene_rect_t bounds;
  gboolean seen = !gtk_widget_compute_bounds (part, view, &bounds)
                  || (bounds.origin.y + bounds.size.height > -EDGE_PX
                      && bounds.origin.y < (float) (gtk_widget_get_height (view) + EDGE_PX));
  gtk_widget_set_opacity (part, seen ? 1 : 0); /* no node is made of what is wholly transparent */
  return seen;
}

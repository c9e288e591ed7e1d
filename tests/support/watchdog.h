/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A watchdog over the main loop: the time between two polls is the time in which no key and no click is heard. */
#pragma once

#include <glib.h>
#include <time.h>

/* Poll functions have no user data: what the watchdog saw is the program's. */
static struct {
  gint64 polled_us, polled_cpu_us; /* when the last poll gave back */
  gboolean on;
  double wall_ms, processor_ms; /* the longest so far */
} watchdog;

static inline gint64
watchdog_cpu_us (void)
{
  struct timespec spent;
  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &spent);
  return (gint64) spent.tv_sec * G_USEC_PER_SEC + spent.tv_nsec / 1000;
}

static inline void
watchdog_note_poll (void)
{
  watchdog.polled_us = g_get_monotonic_time ();
  watchdog.polled_cpu_us = watchdog_cpu_us ();
}

static inline int
watchdog_poll (GPollFD *fds, guint n_fds, int timeout_ms)
{
  if (watchdog.on) {
    watchdog.wall_ms = MAX (watchdog.wall_ms, (double) (g_get_monotonic_time () - watchdog.polled_us) / 1000);
    watchdog.processor_ms = MAX (watchdog.processor_ms, (double) (watchdog_cpu_us () - watchdog.polled_cpu_us) / 1000);
  }
  int n = g_poll (fds, n_fds, timeout_ms);
  watchdog_note_poll ();
  return n;
}

static inline void
watchdog_install (void)
{
  g_main_context_set_poll_func (NULL, watchdog_poll);
}

static inline void
watchdog_begin (void)
{
  watchdog.on = TRUE;
  watchdog.wall_ms = watchdog.processor_ms = 0;
  watchdog_note_poll ();
}

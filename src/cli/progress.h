/* A bar on a terminal, for what takes longer than a second. */
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include "cli/session.h"

/* Seconds of a clock that never goes back. */
double seconds_now(void);
/* `since`: when it began. Nothing is shown where standard error is no terminal, or with --quiet. */
void show_progress(const struct session *session, double since, size_t done, size_t all);

#endif

/* What the files of the let-start check share. */
#ifndef PROTECT_LET_START_H
#define PROTECT_LET_START_H

#include "sagband/protect.h"

/* Seconds at a multiple, straight between points on log-log paper; INFINITY below the first point, the last point's
   beyond it. */
double curve_time(const struct sag_curve *curve, double multiple);

#endif

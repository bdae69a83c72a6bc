/* A plant as run_up.py reads it. */
#ifndef OUTSIDE_PLANT_JSON_H
#define OUTSIDE_PLANT_JSON_H

#include <stdio.h>

#include "rig.h"

/* The plant of rig_weak_plant(): its motor RIG_STARTS starts at 0, the others run before; everything is followed for so
   many seconds, speeds to `tolerance`. */
void write_plant_json(const struct rig *rig, double seconds, double tolerance, FILE *to);

#endif

/* All of the library. Data flows one way: read, complete, model, network, start, protect, judge, advise, write. A stage
   takes const input and fills a result that its caller owns; it never prints, exits or keeps state. Switch GSL's error
   handler off first (gsl_set_error_handler_off), or a numerical corner ends the process. */
#ifndef SAGBAND_SAGBAND_H
#define SAGBAND_SAGBAND_H

#include "sagband/advise.h"
#include "sagband/complete.h"
#include "sagband/diag.h"
#include "sagband/facts.h"
#include "sagband/input.h"
#include "sagband/judge.h"
#include "sagband/model.h"
#include "sagband/network.h"
#include "sagband/protect.h"
#include "sagband/quantity.h"
#include "sagband/read.h"
#include "sagband/report.h"
#include "sagband/start.h"
#include "sagband/status.h"
#include "sagband/survey.h"
#include "sagband/tables.h"
#include "sagband/write.h"

#endif

#include "write/gnuplot.h"
enum sag_status sag_plot_survey(const struct sag_survey_plot_job *job, struct sag_diags *diags)
{
    (void)job;
    (void)diags;
    return SAG_OK;
}

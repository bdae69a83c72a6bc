/* Checks of boards: what goes through them, what a fault there brings, whether measurement and network agree. */
#include <math.h>

#include "judge/parts.h"

#define PERCENT 100.0

/* Amps against those of the row's own kVA at its own volts: windings are warmed by amps. An open-delta bank's kVA are
   1/sqrt3 of what its units would carry in a closed one. */
static bool measure_share(const struct sag_subject *s, double amps, struct sag_measure *m)
{
    const double most = 100, watched = 80; /* %; common practice, no source: room for a start and a hot day */
    if (isnan(s->report->rated_va) || isnan(amps))
        return false;
    double share = sqrt(3.0) * s->node->volts_nominal * amps / s->report->rated_va;
    *m = (struct sag_measure){.value = sag_exact(PERCENT * share, SAG_COMPUTED),
                              .limit = most,
                              .watch = watched,
                              .side = AT_MOST,
                              .source = "amps of its own kVA; 80 %, common practice"};
    return true;
}

bool measure_capacity(const struct sag_subject *s, struct sag_measure *m)
{
    return s->which != SAG_CASE_COUNT && measure_share(s, s->report->of[s->which].amps, m);
}

bool measure_capacity_fire(const struct sag_subject *s, struct sag_measure *m)
{
    return s->which != SAG_CASE_COUNT && measure_share(s, s->report->of[s->which].amps_fire, m);
}

/* Behind a utility whose fault level nobody gave the network shows the most that can be. */
static bool is_upper_bound(const struct sag_subject *s)
{
    const struct sag_grid_node *n = s->node;
    while (n->parent >= 0)
        n = &s->grid->nodes[n->parent];
    return n->kind == SAG_NODE_UTILITY && n->r == 0 && n->x == 0;
}

/* A fault does not ask for the case: sources and every motor that normally runs, at nominal volts. */
bool measure_fault_rating(const struct sag_subject *s, struct sag_measure *m)
{
    const double most = 100, watched = 90; /* %; the 10 % to spare are common practice, no source */
    if (s->which != SAG_CASE_COUNT || isnan(s->report->rating_amps))
        return false;
    double motors = s->report->motor_fault_amps; /* not known beside a fault without end */
    double share = (s->report->fault_amps + (isnan(motors) ? 0 : motors)) / s->report->rating_amps;
    struct sag_qty value = sag_exact(PERCENT * share, SAG_COMPUTED);
    if (is_upper_bound(s))
        value = sag_between(PERCENT * share, 0, PERCENT * share, SAG_ASSUMED);
    *m = (struct sag_measure){.value = value,
                              .limit = most,
                              .watch = watched,
                              .side = AT_MOST,
                              .source = "NFPA 70-2023 110.9 (from memory); 90 %, common practice"};
    return true;
}

bool measure_measured_gap(const struct sag_subject *s, struct sag_measure *m)
{
    const double most = 2; /* % of computed volts: meter and cable lengths together; common practice, no source */
    if (s->which != SAG_CASE_MEASURED || !s->report->of[s->which].measured_here)
        return false;
    const struct sag_board_flow *f = &s->report->of[s->which];
    *m = (struct sag_measure){.value = sag_exact(PERCENT * fabs(f->volts_ll / f->computed_volts - 1), SAG_MEASURED),
                              .limit = most,
                              .watch = most,
                              .side = AT_MOST,
                              .advisory = true,
                              .source = "2 %, common practice"};
    return true;
}

/* All else of a path is as given, or has a usual value that moves no verdict of a board. */
static const char *fault_level(const struct sag_subject *s, const struct sag_check *check)
{
    (void)s;
    (void)check;
    return "fault_mva";
}

/* The checks of one case, or with `which` SAG_CASE_COUNT those of none. */
static enum sag_verdict check_board(const struct sag_subject *s, size_t node, struct sag_board_result *r)
{
    const struct check_job job = {.subject = s,
                                  .from = checks_begin(CHECKS_BOARD),
                                  .to = checks_begin(CHECKS_BRANCH),
                                  .about = {.motor = node, .board = s->node->id},
                                  .decisive = fault_level};
    const struct finding_list out = {r->findings, &r->finding_count, SAG_MOST_BOARD_FINDINGS};
    enum sag_verdict worst = run_checks(&job, &out).all;
    r->worst = worse(r->worst, worst);
    return worst;
}

void sag_judge_boards(const struct sag_plant *plant, const struct sag_grid *grid,
                      const struct sag_board_report *reports, struct sag_board_result *results)
{
    for (size_t i = 0; i < grid->node_count; i++) {
        struct sag_board_result *r = &results[i];
        *r = (struct sag_board_result){0};
        struct sag_subject s = {
            .plant = plant, .grid = grid, .node = &grid->nodes[i], .report = &reports[i], .which = SAG_CASE_COUNT};
        enum sag_verdict of_fault = check_board(&s, i, r);
        for (int c = 0; c < SAG_CASE_COUNT; c++) {
            r->present[c] = plant->cases[c] && !isnan(reports[i].of[c].volts_ll);
            s.which = (enum sag_case)c;
            if (r->present[c])
                r->verdict[c] = worse(of_fault, check_board(&s, i, r));
        }
    }
}

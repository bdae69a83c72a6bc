/* What is kept of each motor while the sections of the feeders are written. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "sagband/report.h"

enum sag_status sag_notes_init(struct sag_report_notes *n, size_t motors)
{
    *n = (struct sag_report_notes){.hardest = SIZE_MAX};
    n->motors = calloc(motors ? motors : 1, sizeof *n->motors);
    if (!n->motors)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < motors; i++) {
        memset(n->motors[i].verdict, SAG_VERDICT_COUNT, sizeof n->motors[i].verdict);
        memset(n->motors[i].band, SAG_VERDICT_COUNT, sizeof n->motors[i].band);
    }
    return SAG_OK;
}

void sag_notes_free(struct sag_report_notes *n)
{
    for (int part = 0; part < SAG_REPORT_PARTS; part++)
        free(n->findings[part].items);
    free(n->motors);
    free(n->fire);
    *n = (struct sag_report_notes){0};
}

enum sag_status sag_note_findings(struct sag_report_notes *n, enum sag_report_part part,
                                  const struct sag_finding *findings, size_t count)
{
    struct sag_finding_list *list = &n->findings[part];
    if (count == 0)
        return SAG_OK;
    if (!sag_grow(&list->items, list->count + count, &list->room, sizeof *list->items))
        return SAG_NO_MEMORY;
    memcpy(list->items + list->count, findings, count * sizeof *findings);
    list->count += count;
    return SAG_OK;
}

static void note_open_facts(struct sag_report_notes *n, const struct sag_motor *motor, size_t index)
{
    uint64_t open = sag_assumed_inputs(motor) | sag_assumed_in_start(motor);
    double watts = motor->fact[SAG_RATED_POWER].value;
    for (int f = 0; f < SAG_FACT_COUNT; f++) {
        struct sag_open_fact *fact = &n->open[f];
        if (!(open >> f & 1))
            continue;
        if (fact->motors == 0 || watts > fact->watts) {
            fact->largest = index;
            fact->watts = watts;
        }
        fact->motors++;
    }
}

enum sag_status sag_note_check(struct sag_report_notes *n, const struct sag_result *r)
{
    struct sag_motor_note *note = &n->motors[r->index];
    note->looked_at = true;
    if (r->judged)
        note->verdict[SAG_PART_CHECK] = (uint8_t)r->worst;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (r->of[c].present)
            note->band[c] = (uint8_t)r->of[c].band_verdict;
    note_open_facts(n, &r->motor, r->index);
    return sag_note_findings(n, SAG_PART_CHECK, r->findings, r->finding_count);
}

static enum sag_status note_fire_pump(struct sag_report_notes *n, const struct sag_start_result *r)
{
    struct sag_fire_note note = {r->index, NAN, NAN};
    if (r->motor.plate->choice[SAG_DUTY] != SAG_DUTY_FIRE_PUMP)
        return SAG_OK;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (r->of[c].present && r->of[c].likely.computed) {
            note.start_share = fmin(note.start_share, r->of[c].board_lowest.value / r->nominal_volts);
            note.run_share = fmin(note.run_share, r->of[c].run_share);
        }
    if (isnan(note.start_share))
        return SAG_OK;
    if (!sag_grow(&n->fire, n->fire_count + 1, &n->fire_room, sizeof *n->fire))
        return SAG_NO_MEMORY;
    n->fire[n->fire_count++] = note;
    return SAG_OK;
}

/* How deep it takes the volts of its board, share of what they were. */
static double dip_of(const struct sag_start_case *c)
{
    return c->collapses ? 1 : c->likely.computed ? 1 - c->board_lowest.value / c->likely.board_before : NAN;
}

enum sag_status sag_note_start(struct sag_report_notes *n, const struct sag_start_result *r)
{
    struct sag_motor_note *note = &n->motors[r->index];
    note->heavy = r->judged && sag_has_heavy_load(r);
    note->curable = r->judged && r->worst == SAG_VERDICT_FAIL && sag_is_curable(r);
    if (r->judged)
        note->verdict[SAG_PART_START] = (uint8_t)r->worst;
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        bool known = r->of[c].present && !isnan(dip_of(&r->of[c]));
        if (!known || (n->hardest != SIZE_MAX && dip_of(&r->of[c]) <= dip_of(&n->hardest_start)))
            continue;
        n->hardest = r->index;
        n->hardest_case = (enum sag_case)c;
        n->hardest_start = r->of[c];
    }
    enum sag_status status = note_fire_pump(n, r);
    return status == SAG_OK ? sag_note_findings(n, SAG_PART_START, r->findings, r->finding_count) : status;
}

enum sag_status sag_note_branch(struct sag_report_notes *n, const struct sag_branch_result *r)
{
    if (r->judged)
        n->motors[r->index].verdict[SAG_PART_PROTECT] = (uint8_t)r->verdict;
    return sag_note_findings(n, SAG_PART_PROTECT, r->findings, r->finding_count);
}

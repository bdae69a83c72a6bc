/* The plates of a motor list as bands of line volts at the log: one for all motors that allow the same. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "judge/parts.h"
#include "sagband/survey.h"

static struct sag_survey_plate plate_of(const struct sag_plant *plant, size_t motor, double *terminal_share)
{
    const struct sag_plate *plate = &plant->list->plates[motor];
    struct sag_connection connection = connection_of(board_of(plant, plate));
    struct sag_motor completed;
    struct sag_terminals t;
    sag_complete_motor(plant->tables, plate, &connection, &completed);
    find_terminals(plant, &completed, SAG_CASE_NOMINAL, &t);
    *terminal_share = completed.terminal_share;
    return (struct sag_survey_plate){.rated_volts = completed.fact[SAG_RATED_VOLTS].value,
                                     .hz = completed.fact[SAG_HZ].value,
                                     .low = t.band_low / completed.terminal_share,
                                     .high = t.band_high / completed.terminal_share,
                                     .source = t.band_source,
                                     .count = 1,
                                     .first = motor};
}

/* From a line to the neutral only plates that are meant for it are compared (265 V on 277, 115 on 120): one of 230 V is
   closer to the neutral's volts of many a board than anybody would have it. A choice. */
#define NEUTRAL_VOLTS_APART 0.125

/* A list of several boards has plates of other volts too; the reader refuses those that are as far off their own board.
 */
static bool is_of_board(const struct sag_plant *plant, const struct sag_survey_plate *p, double terminal_share)
{
    const struct sag_board *board = board_of(plant, &plant->list->plates[p->first]);
    const double most = terminal_share < 1 ? NEUTRAL_VOLTS_APART : SAG_VOLTS_APART;
    return p->low < p->high && fabs(p->rated_volts / terminal_share / board->volts_nominal - 1) <= most;
}

static bool same_band(const struct sag_survey_plate *a, const struct sag_survey_plate *b)
{
    return a->rated_volts == b->rated_volts && a->hz == b->hz && a->low == b->low && a->high == b->high &&
           strcmp(a->source, b->source) == 0;
}

struct growing {
    struct sag_survey_plates *out;
    size_t room;
};

static enum sag_status add_motor(struct growing *g, const struct sag_plant *plant, size_t motor)
{
    double terminal_share;
    struct sag_survey_plate plate = plate_of(plant, motor, &terminal_share);
    struct sag_survey_plates *out = g->out;
    size_t i = 0;
    if (!is_of_board(plant, &plate, terminal_share))
        return SAG_OK;
    while (i < out->count && !same_band(&out->items[i], &plate))
        i++;
    if (i == out->count) {
        if (!sag_grow(&out->items, out->count + 1, &g->room, sizeof *out->items))
            return SAG_NO_MEMORY;
        out->items[out->count++] = plate;
    } else
        out->items[i].count++;
    out->of[motor] = (int32_t)i;
    return SAG_OK;
}

static int by_volts(const void *left, const void *right)
{
    const struct sag_survey_plate *a = left, *b = right;
    if (a->rated_volts != b->rated_volts)
        return a->rated_volts < b->rated_volts ? -1 : 1;
    return (a->first > b->first) - (a->first < b->first);
}

/* Lowest volts first; the motors' places go with them. */
static enum sag_status sort_plates(struct sag_survey_plates *out, size_t motor_count)
{
    int32_t *place = calloc(out->count + 1, sizeof *place);
    struct sag_survey_plate *before = calloc(out->count + 1, sizeof *before);
    if (place && before && out->count) {
        memcpy(before, out->items, out->count * sizeof *before);
        qsort(out->items, out->count, sizeof *out->items, by_volts);
        for (size_t i = 0; i < out->count; i++)
            for (size_t k = 0; k < out->count; k++)
                if (out->items[k].first == before[i].first)
                    place[i] = (int32_t)k;
        for (size_t i = 0; i < motor_count; i++)
            if (out->of[i] >= 0)
                out->of[i] = place[out->of[i]];
    }
    enum sag_status status = place && before ? SAG_OK : SAG_NO_MEMORY;
    free(place);
    free(before);
    return status;
}

enum sag_status sag_find_survey_plates(const struct sag_plant *plant, const bool *wanted, struct sag_survey_plates *out)
{
    size_t n = plant->list->count;
    *out = (struct sag_survey_plates){.of = calloc(n ? n : 1, sizeof *out->of)};
    struct growing g = {.out = out};
    enum sag_status status = out->of ? SAG_OK : SAG_NO_MEMORY;
    for (size_t i = 0; i < n && status == SAG_OK; i++) {
        out->of[i] = -1;
        if (!wanted || wanted[i])
            status = add_motor(&g, plant, i);
    }
    return status == SAG_OK ? sort_plates(out, n) : status;
}

void sag_survey_plates_free(struct sag_survey_plates *plates)
{
    free(plates->items);
    free(plates->of);
    *plates = (struct sag_survey_plates){0};
}

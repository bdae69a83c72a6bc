/* The tables of `survey`: a plate, a voltage, a dip a row. */
#include <math.h>
#include <string.h>

#include "base/clock.h"
#include "base/number.h"
#include "sagband/write.h"

#define PERCENT 100.0

/* clang-format off: one row a column;
   X(ENUM, name or NULL, head, unit in text, width, decimals, kind, heads shown in the table of plates, of volts, of the
     unbalance) */
#define SURVEY_COLUMNS(X)                                                                                              \
    X(ROW, "row", "", "", 0, 0, TEXT, false, false, false)                                                             \
    X(NAME, "id", "", "", 14, 0, TEXT, true, true, true)                                                               \
    X(VOLTS, "plate_volts", "", "", 0, 1, NUMBER, false, false, false)                                                 \
    X(HZ, "plate_hz", "", "", 0, 1, NUMBER, false, false, false)                                                       \
    X(MOTORS, "motors", "motors", "", 6, 0, NUMBER, true, false, false)                                                \
    X(LOW, "band_low_volts", "from", "V", 7, 1, NUMBER, true, false, false)                                            \
    X(HIGH, "band_high_volts", "to", "V", 7, 1, NUMBER, true, false, false)                                            \
    X(INSIDE, "in_band_pct", "inside", "%", 7, 2, NUMBER, true, false, false)                                          \
    X(BELOW, "below_pct", "below", "%", 6, 2, NUMBER, true, false, false)                                              \
    X(ABOVE, "above_pct", "above", "%", 6, 2, NUMBER, true, false, false)                                              \
    X(SUSTAINED, "sustained_pct", "lasting", "%", 7, 2, NUMBER, true, false, false)                                    \
    X(LONGEST, "longest_outside_s", "", "", 0, 1, NUMBER, false, false, false)                                         \
    X(LONGEST_H, NULL, "longest", "h", 7, 2, NUMBER, true, false, false)                                               \
    X(ROOM_LEAST, "headroom_lowest_volts", "least", "V room", 6, 1, NUMBER, true, false, false)                        \
    X(ROOM_MOST, "headroom_highest_volts", "most", "V room", 6, 1, NUMBER, true, false, false)                         \
    X(WORST, "worst_hour", "worst hour", "", 19, 0, TEXT, true, false, false)                                          \
    X(WORST_IN, "worst_hour_in_band_pct", "", "", 0, 2, NUMBER, false, false, false)                                   \
    X(WORST_MEAN, "worst_hour_mean_volts", "", "", 0, 1, NUMBER, false, false, false)                                  \
    X(MEAN, "mean", "mean", "", 8, 2, NUMBER, false, true, true)                                                       \
    X(LOWEST, "lowest", "lowest", "", 8, 2, NUMBER, false, true, false)                                                \
    X(P01, "p01", "1 %", "", 8, 2, NUMBER, false, true, false)                                                         \
    X(P50, "p50", "50 %", "", 8, 2, NUMBER, false, true, true)                                                         \
    X(P95, "p95", "95 %", "", 8, 2, NUMBER, false, true, true)                                                         \
    X(P99, "p99", "99 %", "", 8, 2, NUMBER, false, true, true)                                                         \
    X(HIGHEST, "highest", "highest", "", 8, 2, NUMBER, false, true, true)                                              \
    X(UNIT, "unit", "unit", "", 4, 0, TEXT, false, true, true)                                                         \
    X(OVER_1, "over_1_pct", "over 1 %", "% time", 9, 2, NUMBER, false, false, true)                                    \
    X(OVER_5, "over_5_pct", "over 5 %", "% time", 9, 2, NUMBER, false, false, true)                                    \
    X(HOURS, "hours", "", "", 0, 3, NUMBER, false, false, false)                                                       \
    X(VERDICT, "verdict", "verdict", "", 7, 0, VERDICT, true, false, false)                                            \
    X(TAGS, "tags", "", "", 0, 0, TEXT, false, false, false)
/* clang-format on */

enum {
#define COLUMN(name, ...) AT_##name,
    SURVEY_COLUMNS(COLUMN)
#undef COLUMN
};

#define PLATE_COLUMN(id, name, head, unit, width, decimals, kind, plates, volts, unbalance)                            \
    {name, (plates) ? (head) : NULL, unit, width, decimals, SAG_CELL_##kind},
#define VOLTS_COLUMN(id, name, head, unit, width, decimals, kind, plates, volts, unbalance)                            \
    {name, (volts) ? (head) : NULL, unit, width, decimals, SAG_CELL_##kind},
#define UNBALANCE_COLUMN(id, name, head, unit, width, decimals, kind, plates, volts, unbalance)                        \
    {name, (unbalance) ? (head) : NULL, unit, width, decimals, SAG_CELL_##kind},
static const struct sag_column plate_columns[] = {SURVEY_COLUMNS(PLATE_COLUMN)};
static const struct sag_column volts_columns[] = {SURVEY_COLUMNS(VOLTS_COLUMN)};
static const struct sag_column unbalance_columns[] = {SURVEY_COLUMNS(UNBALANCE_COLUMN)};
#undef PLATE_COLUMN
#undef VOLTS_COLUMN
#undef UNBALANCE_COLUMN

#define VIEW(columns)                                                                                                  \
    {                                                                                                                  \
        columns, sizeof(columns) / sizeof *(columns)                                                                   \
    }
const struct sag_view sag_survey_view = VIEW(plate_columns);
const struct sag_view sag_survey_volts_view = VIEW(volts_columns);
const struct sag_view sag_survey_unbalance_view = VIEW(unbalance_columns);

/* clang-format off: as above */
#define DIP_COLUMNS(X)                                                                                                 \
    X(KIND, "kind", "kind", "", 12, 0, TEXT)                                                                           \
    X(START, "start", "start", "", 23, 0, TEXT)                                                                        \
    X(LENGTH, "length_s", "length", "s", 9, 3, NUMBER)                                                                 \
    X(RESIDUAL, "residual_volts", "volts", "V", 7, 1, NUMBER)                                                          \
    X(SHARE, "residual_pct", "share", "% ref.", 6, 1, NUMBER)                                                          \
    X(DEPTH, "depth_pct", "depth", "%", 6, 1, NUMBER)                                                                  \
    X(PAIRS, "pairs", "pairs", "", 8, 0, TEXT)                                                                         \
    X(GONE, "interrupted_s", "all gone", "s", 9, 3, NUMBER)                                                            \
    X(OPEN, "open", "not seen", "", 13, 0, TEXT)
/* clang-format on */

enum {
#define COLUMN(name, ...) DIP_##name,
    DIP_COLUMNS(COLUMN)
#undef COLUMN
};

#define COLUMN(id, name, head, unit, width, decimals, kind) {name, head, unit, width, decimals, SAG_CELL_##kind},
static const struct sag_column dip_columns[] = {DIP_COLUMNS(COLUMN)};
#undef COLUMN
const struct sag_view sag_dip_view = VIEW(dip_columns);

static void blank(const struct sag_view *view, struct sag_value *v)
{
    for (size_t k = 0; k < view->count; k++)
        v[k] = (struct sag_value){NAN, ""};
}

/* "460 V", "400 V 50 Hz". */
static const char *plate_name(const struct sag_survey_table *t, const struct sag_survey_plate *p, char *out,
                              size_t room)
{
    char volts[SAG_NUMBER_ROOM], hz[SAG_NUMBER_ROOM];
    bool several = false;
    for (size_t i = 0; i < t->plates->count; i++)
        several = several || t->plates->items[i].hz != t->plates->items[0].hz;
    sag_number_figures(volts, p->rated_volts, 6);
    if (several)
        snprintf(out, room, "%s V %s Hz", volts, sag_number_figures(hz, p->hz, 3));
    else
        snprintf(out, room, "%s V", volts);
    return out;
}

/* Tags of the plate's motors, a blank between them; what does not fit is counted. */
static const char *tags_of(const struct sag_survey_table *t, size_t plate, char *out, size_t room)
{
    size_t used = 0, left = t->plates->items[plate].count;
    out[0] = '\0';
    for (size_t i = 0; i < t->list->count; i++) {
        const char *tag = t->list->plates[i].tag;
        if (t->plates->of[i] != (int32_t)plate)
            continue;
        if (used + strlen(tag) + 24 > room) {
            snprintf(out + used, room - used, " and %zu more", left);
            break;
        }
        used += (size_t)snprintf(out + used, room - used, "%s%s", used ? " " : "", tag);
        left--;
    }
    return out;
}

void sag_survey_plate_row(const struct sag_survey_table *t, size_t plate, struct sag_survey_text *text,
                          struct sag_value *v)
{
    const double an_hour = 3600;
    const struct sag_survey_plate *p = &t->plates->items[plate];
    const struct sag_survey_band *b = &t->survey->bands[plate];
    blank(&sag_survey_view, v);
    v[AT_ROW].text = "plate";
    v[AT_NAME].text = plate_name(t, p, text->name, sizeof text->name);
    v[AT_VOLTS].number = p->rated_volts;
    v[AT_HZ].number = p->hz;
    v[AT_MOTORS].number = (double)p->count;
    v[AT_LOW].number = b->low;
    v[AT_HIGH].number = b->high;
    v[AT_INSIDE].number = PERCENT * b->inside;
    v[AT_BELOW].number = PERCENT * b->below;
    v[AT_ABOVE].number = PERCENT * b->above;
    v[AT_SUSTAINED].number = PERCENT * b->sustained;
    v[AT_LONGEST].number = b->longest;
    v[AT_LONGEST_H].number = b->longest / an_hour;
    v[AT_ROOM_LEAST].number = b->headroom_lowest;
    v[AT_ROOM_MOST].number = b->headroom_highest;
    bool left = b->worst.inside < 1; /* an hour that is no worse than the others is not named */
    v[AT_WORST].text = left ? sag_clock_print(text->hour, b->worst.clock, t->survey->log.dated) : "";
    v[AT_WORST_IN].number = left ? PERCENT * b->worst.inside : NAN;
    v[AT_WORST_MEAN].number = left ? b->worst.mean : NAN;
    v[AT_VERDICT].text = sag_verdict_word(t->result->of_plate[plate]);
    v[AT_TAGS].text = tags_of(t, plate, text->tags, sizeof text->tags);
}

static void put_over_time(const struct sag_over_time *o, double scale, struct sag_value *v)
{
    const double an_hour = 3600;
    v[AT_MEAN].number = scale * o->mean;
    v[AT_LOWEST].number = scale * o->lowest;
    v[AT_P01].number = scale * o->p01;
    v[AT_P50].number = scale * o->p50;
    v[AT_P95].number = scale * o->p95;
    v[AT_P99].number = scale * o->p99;
    v[AT_HIGHEST].number = scale * o->highest;
    v[AT_HOURS].number = o->seconds / an_hour;
}

void sag_survey_volts_row(const struct sag_survey_table *t, int which, struct sag_survey_text *text,
                          struct sag_value *v)
{
    static const char *const names[] = {"ab", "bc", "ca", "average", "unbalance"};
    const struct sag_survey *s = t->survey;
    bool volts = which <= SAG_SURVEY_PAIRS;
    (void)text;
    blank(&sag_survey_view, v);
    v[AT_ROW].text = volts ? "volts" : "unbalance";
    v[AT_NAME].text = names[which];
    v[AT_UNIT].text = volts ? "V" : "%";
    if (volts) {
        put_over_time(which < SAG_SURVEY_PAIRS ? &s->pair[which] : &s->average, 1, v);
        return;
    }
    put_over_time(&s->unbalance, PERCENT, v);
    v[AT_OVER_1].number = PERCENT * s->unbalance_over[0];
    v[AT_OVER_5].number = PERCENT * s->unbalance_over[1];
}

void sag_dip_row(const struct sag_survey *s, size_t event, struct sag_survey_text *text, struct sag_value *v)
{
    static const char *const pairs[] = {"", "ab", "bc", "ab bc", "ca", "ab ca", "bc ca", "ab bc ca"};
    static const char *const open[] = {"", "begin", "end", "begin and end"};
    const struct sag_volt_event *e = &s->events[event];
    double share = PERCENT * e->extreme / s->reference;
    blank(&sag_dip_view, v);
    v[DIP_KIND].text = sag_event_word((enum sag_event_kind)e->kind);
    v[DIP_START].text = sag_clock_print(text->hour, e->clock, s->log.dated);
    v[DIP_LENGTH].number = e->seconds;
    v[DIP_RESIDUAL].number = e->extreme;
    v[DIP_SHARE].number = share;
    v[DIP_DEPTH].number = e->kind == SAG_EVENT_SWELL ? NAN : PERCENT - share;
    v[DIP_PAIRS].text = pairs[e->pairs & 7];
    v[DIP_GONE].number = e->kind == SAG_EVENT_INTERRUPTION ? e->interrupted : NAN;
    v[DIP_OPEN].text = open[(e->begins_before ? 1 : 0) + (e->ends_after ? 2 : 0)];
}

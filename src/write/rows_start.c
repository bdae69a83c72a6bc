/* The tables of `start`: a started motor in a case a row; and a run's samples over time. */
#include <math.h>
#include <string.h>

#include "sagband/write.h"
#include "write/formats.h"

/* clang-format off: one row a column; X(ENUM, name, head in text or NULL, unit in text, width, decimals, kind) */
#define START_COLUMNS(X)                                                                                               \
    X(TAG, "tag", "motor", "", 12, 0, TEXT)                                                                            \
    X(FEEDER, "feeder", NULL, "", 0, 0, TEXT)                                                                          \
    X(CASE, "case", "case", "", 8, 0, TEXT)                                                                            \
    X(STARTING, "starting", "starting", "", 9, 0, TEXT)                                                                \
    X(BEFORE, "volts_before_pct", "before", "% plate", 7, 1, NUMBER)                                                   \
    X(MOTOR_MIN, "motor_min_volts_pct", "lowest", "% plate", 7, 1, NUMBER)                                             \
    X(BOARD_MIN, "board_min_volts_pct", NULL, "", 0, 1, NUMBER)                                                        \
    X(BOARD_DIP, "board_dip_pct", "dip", "%", 5, 1, NUMBER)                                                            \
    X(OTHER, "worst_other", "worst other", "", 11, 0, TEXT)                                                            \
    X(OTHER_VOLTS, "worst_other_volts_pct", "its V", "% plate", 7, 1, NUMBER)                                          \
    X(PEAK, "peak_amps", "peak", "A", 7, 1, NUMBER)                                                                    \
    X(TIME, "time_to_speed_s", "to speed", "s", 9, 2, NUMBER)                                                          \
    X(AT_MOST_TIME, NULL, "at most", "s", 8, 2, NUMBER)                                                                \
    X(HANGS, "hangs_at_rpm", NULL, "", 0, 0, NUMBER)                                                                   \
    X(LOCKED_TIME, "locked_time_used_pct", "heat", "%", 5, 1, NUMBER)                                                  \
    X(VERDICT, "verdict", "verdict", "", 7, 0, VERDICT)                                                                \
    X(WHY, NULL, "by", "", 0, 0, TEXT)                                                                                 \
    X(ASSUMED, "assumed", NULL, "", 0, 0, TEXT)
#define TRACE_COLUMNS(X)                                                                                               \
    X(T_TIME, "time_s", "time", "s", 9, 4, NUMBER)                                                                     \
    X(T_TAG, "tag", "motor", "", 12, 0, TEXT)                                                                          \
    X(T_MOTOR_VOLTS, "motor_volts", "motor", "V", 8, 2, NUMBER)                                                        \
    X(T_BOARD_VOLTS, "board_volts", "board", "V", 8, 2, NUMBER)                                                        \
    X(T_AMPS, "amps", "line", "A", 8, 2, NUMBER)                                                                       \
    X(T_RPM, "rpm", "speed", "rev/min", 8, 1, NUMBER)                                                                  \
    X(T_MOTOR_TORQUE, "motor_torque_nm", "torque", "N m", 8, 2, NUMBER)                                                \
    X(T_LOAD_TORQUE, "load_torque_nm", "load", "N m", 8, 2, NUMBER)
/* clang-format on */

enum {
#define COLUMN(name, ...) AT_##name,
    START_COLUMNS(COLUMN)
#undef COLUMN
};
enum {
#define COLUMN(name, ...) AT_##name,
    TRACE_COLUMNS(COLUMN)
#undef COLUMN
};

#define COLUMN(name, column, head, unit, width, decimals, kind) {column, head, unit, width, decimals, SAG_CELL_##kind},
static const struct sag_column start_columns[] = {START_COLUMNS(COLUMN)};
static const struct sag_column trace_columns[] = {TRACE_COLUMNS(COLUMN)};
#undef COLUMN

const struct sag_view sag_start_view = {start_columns, sizeof start_columns / sizeof *start_columns};
const struct sag_view sag_trace_view = {trace_columns, sizeof trace_columns / sizeof *trace_columns};

/* What people see where the time is blank. */
static const char *instead(const struct sag_start_case *c)
{
    if (c->collapses)
        return "collapse";
    return !c->likely.computed ? "no calc" : !c->likely.runs_up ? "hangs" : "";
}

static const char *assumed_columns(const struct sag_start_result *r, char *out, size_t room)
{
    put_fact_columns(sag_assumed_in_start(&r->motor), out, room);
    size_t used = strlen(out);
    if (r->starter.assumed && used < room)
        snprintf(out + used, room - used, "%sstart_setting", used ? " " : "");
    return out;
}

/* The check that gave the verdict: the first of the worst. */
static const char *decided_by(const struct sag_start_result *r, enum sag_case which)
{
    for (size_t i = 0; i < r->finding_count; i++) {
        const struct sag_finding *f = &r->findings[i];
        if ((f->which == which || f->which == SAG_CASE_COUNT) && f->verdict == r->of[which].verdict)
            return f->check->name;
    }
    return "";
}

static void put_volts(const struct sag_motor_list *list, const struct sag_start_result *r,
                      const struct sag_start_case *c, double board_nominal, struct sag_value *v)
{
    double rated = r->motor.fact[SAG_RATED_VOLTS].value;
    v[AT_BEFORE].number = 100 * c->likely.volts_before / rated;
    v[AT_MOTOR_MIN].number = 100 * c->terminals_lowest.value / rated;
    v[AT_BOARD_MIN].number = 100 * c->board_lowest.value / board_nominal;
    v[AT_BOARD_DIP].number = 100 * (1 - c->board_lowest.value / c->likely.board_before);
    if (c->other < list->count && c->likely.computed) {
        v[AT_OTHER].text = list->plates[c->other].tag;
        v[AT_OTHER_VOLTS].number = 100 * c->other_share.value;
    }
}

void sag_start_row(const struct sag_plant *plant, const struct sag_start_result *r, enum sag_case which,
                   struct sag_row_text *text, struct sag_value *v)
{
    const struct sag_start_case *c = &r->of[which];
    for (size_t i = 0; i < sag_start_view.count; i++)
        v[i] = (struct sag_value){NAN, ""};
    v[AT_TAG].text = r->motor.plate->tag;
    v[AT_FEEDER].text = plant->list->feeders[r->motor.plate->feeder].id;
    v[AT_CASE].text = sag_case_word(which);
    v[AT_STARTING].text = sag_choice_word(SAG_STARTING, (uint8_t)r->starter.method);
    if (r->starter.method == SAG_STARTING_BLANK)
        v[AT_STARTING].text = sag_choice_word(SAG_STARTING, SAG_STARTING_ACROSS);
    v[AT_VERDICT].text = sag_verdict_word(c->verdict);
    v[AT_WHY].text = decided_by(r, which);
    v[AT_ASSUMED].text = assumed_columns(r, text->assumed, sizeof text->assumed);
    v[AT_TIME].text = instead(c);
    if (c->collapses)
        return;
    put_volts(plant->list, r, c, plant->boards[r->motor.plate->feeder].volts_nominal, v);
    v[AT_PEAK].number = c->amps_peak.value;
    v[AT_TIME].number = c->time_to_speed.value;
    v[AT_AT_MOST_TIME].number = isinf(c->time_to_speed.high) ? NAN : c->time_to_speed.high;
    if (isinf(c->time_to_speed.high))
        v[AT_AT_MOST_TIME].text = "no end";
    if (c->likely.computed && !c->likely.runs_up)
        v[AT_HANGS].number = c->likely.speed_end * r->motor.fact[SAG_SYNC_RPM].value;
    v[AT_LOCKED_TIME].number = 100 * c->heat_used.value / r->motor.fact[SAG_STALL_TIME].value;
}

void sag_trace_values(const struct sag_motor_list *list, const struct sag_grid *grid, const struct sag_trace_row *row,
                      struct sag_value *v)
{
    double rpm = grid->motors[row->motor].sync_rad_s * 30 / acos(-1.0);
    for (size_t i = 0; i < sag_trace_view.count; i++)
        v[i] = (struct sag_value){NAN, ""};
    v[AT_T_TIME].number = row->time;
    v[AT_T_TAG].text = list->plates[row->motor].tag;
    v[AT_T_MOTOR_VOLTS].number = row->motor_volts;
    v[AT_T_BOARD_VOLTS].number = row->board_volts;
    v[AT_T_AMPS].number = row->amps;
    v[AT_T_RPM].number = row->speed * rpm;
    v[AT_T_MOTOR_TORQUE].number = row->motor_torque_nm;
    v[AT_T_LOAD_TORQUE].number = row->load_torque_nm;
}

/* Questions about the supply: its ranges, tolerances, unbalance. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tables/parts.h"

enum {
    SYSTEM,
    RANGE,
    MAXIMUM,
    SERVICE_MIN,
    UTILIZATION_MIN
};

/* Rows are named "480Y/277" or "480": the line voltage stands first. */
static bool is_row_of(const struct used_table *used, size_t row, double nominal)
{
    const double same = 0.005;
    double listed = (double)strtol(sag_table_text(used, row, SYSTEM), NULL, 10);
    return strcmp(sag_table_text(used, row, RANGE), "A") == 0 && fabs(nominal / listed - 1) <= same;
}

static struct sag_answer range_of_row(const struct used_table *used, size_t row, bool at_service, double scale)
{
    struct sag_answer answer = sag_answer_row(used, row, MAXIMUM, scale);
    answer.low = scale * sag_table_number(used, row, at_service ? SERVICE_MIN : UTILIZATION_MIN);
    answer.value = NAN;
    return answer;
}

struct sag_answer sag_ask_supply_range(const struct sag_tables *tables, double nominal_volts, bool at_service)
{
    const struct used_table *used = sag_used_table(tables, USE_SUPPLY_RANGE);
    const double base = 120, medium_voltage = 600;
    struct sag_answer answer = sag_no_answer();
    for (size_t row = 0; row < used->table->rows && isnan(answer.high); row++)
        if (is_row_of(used, row, nominal_volts))
            answer = range_of_row(used, row, at_service, 1);
    double like = nominal_volts > medium_voltage ? 4160 : base;
    for (size_t row = 0; row < used->table->rows && isnan(answer.high); row++) {
        if (!is_row_of(used, row, like))
            continue;
        answer = range_of_row(used, row, at_service, nominal_volts / like);
        answer.beyond = true;
    }
    answer.value = nominal_volts;
    return answer;
}

double sag_ask_nearest_system(const struct sag_tables *tables, double volts, double hz)
{
    enum {
        NOMINAL,
        HZ,
        REMARK
    };
    const double least = 200, public_split = 55; /* V: below it the rows are of one phase; Hz, as in network/cases.c */
    const bool ansi = hz >= public_split;
    const struct used_table *used = sag_used_table(tables, ansi ? USE_SUPPLY_RANGE : USE_SYSTEMS);
    double nearest = NAN;
    for (size_t row = 0; row < used->table->rows; row++) {
        double listed = (double)strtol(sag_table_text(used, row, ansi ? SYSTEM : NOMINAL), NULL, 10);
        bool wanted = ansi || (sag_table_number(used, row, HZ) == 50 &&
                               strncmp(sag_table_text(used, row, REMARK), "IEC 60038", strlen("IEC 60038")) == 0);
        if (wanted && listed >= least && !(fabs(log(volts / listed)) >= fabs(log(volts / nearest))))
            nearest = listed;
    }
    return isnan(volts) ? NAN : nearest;
}

struct sag_limits sag_ask_limits(const struct sag_tables *tables, const char *document, const char *condition)
{
    enum {
        DOCUMENT,
        CONDITION,
        VOLTS_LOW,
        VOLTS_HIGH,
        HZ_LOW,
        HZ_HIGH
    };
    const struct used_table *used = sag_used_table(tables, USE_TOLERANCE);
    for (size_t row = 0; row < used->table->rows; row++) {
        if (strcmp(sag_table_text(used, row, DOCUMENT), document) != 0 ||
            strcmp(sag_table_text(used, row, CONDITION), condition) != 0)
            continue;
        return (struct sag_limits){
            .volts_low = sag_table_number(used, row, VOLTS_LOW),
            .volts_high = sag_table_number(used, row, VOLTS_HIGH),
            .hz_low = sag_table_number(used, row, HZ_LOW),
            .hz_high = sag_table_number(used, row, HZ_HIGH),
            .table = used->table,
            .from_memory = used->table->from_memory[row],
            .found = true,
        };
    }
    return (struct sag_limits){.volts_low = NAN, .volts_high = NAN, .hz_low = NAN, .hz_high = NAN};
}

struct sag_answer sag_ask_unbalance_derating(const struct sag_tables *tables, double share)
{
    enum {
        PERCENT,
        FACTOR
    };
    const struct used_table *used = sag_used_table(tables, USE_DERATING);
    struct bracket b = sag_bracket(used, PERCENT, 100 * share, NULL, 0);
    struct sag_answer answer = sag_answer_between(used, &b, FACTOR, 1);
    if (b.beyond)
        answer.value = answer.low = answer.high = 0;
    return answer;
}

/* Questions about overcurrent devices: ratings, percentages, transformers, trip classes, opening times. */
#include <math.h>
#include <string.h>

#include "tables/parts.h"

#define PERCENT 0.01

static double next_rating(const struct sag_tables *tables, double amps, bool fuse, bool up)
{
    enum {
        RATING,
        FUSE_ONLY
    };
    const double hair = 1e-9; /* a product that is a standard rating stays that rating */
    const struct used_table *used = sag_used_table(tables, USE_RATINGS);
    double best = NAN;
    for (size_t row = 0; row < used->table->rows; row++) {
        double rating = sag_table_number(used, row, RATING);
        if (sag_table_number(used, row, FUSE_ONLY) > 0 && !fuse)
            continue;
        if (up && rating >= amps * (1 - hair))
            return rating;
        if (!up && rating <= amps * (1 + hair))
            best = rating;
    }
    return best;
}

double sag_ask_rating_up(const struct sag_tables *tables, double amps, bool fuse)
{
    return next_rating(tables, amps, fuse, true);
}

double sag_ask_rating_down(const struct sag_tables *tables, double amps, bool fuse)
{
    return next_rating(tables, amps, fuse, false);
}

struct sag_device_share sag_ask_device_share(const struct sag_tables *tables, const char *motor_type,
                                             enum sag_device device, double code_amps)
{
    enum { /* ORDER DEVICE_USE */
        MOTOR,
        BASE_DUAL,
        BASE_NONTIME,
        BASE_BREAKER,
        BASE_INSTANT,
        MOST_DUAL,
        MOST_NONTIME,
        MOST_BREAKER_SMALL,
        MOST_INSTANT,
        MOST_BREAKER_LARGE,
        MOST_FUSE_LARGE
    };
    static const int columns[][2] = {[SAG_DEVICE_DUAL_ELEMENT_FUSE] = {BASE_DUAL, MOST_DUAL},
                                     [SAG_DEVICE_NONTIME_FUSE] = {BASE_NONTIME, MOST_NONTIME},
                                     [SAG_DEVICE_INVERSE_TIME_BREAKER] = {BASE_BREAKER, MOST_BREAKER_SMALL},
                                     [SAG_DEVICE_INSTANTANEOUS_BREAKER] = {BASE_INSTANT, MOST_INSTANT}};
    const double small_motor = 100; /* A; 430.52(C)(1), exception for inverse-time breakers */
    const struct used_table *used = sag_used_table(tables, USE_DEVICE_SHARES);
    size_t row = sag_row_named(used, motor_type);
    int most = columns[device][1];
    if (row == used->table->rows)
        return (struct sag_device_share){NAN, NAN, NAN, NULL, false};
    if (device == SAG_DEVICE_INVERSE_TIME_BREAKER && code_amps > small_motor)
        most = MOST_BREAKER_LARGE;
    bool fuse = device == SAG_DEVICE_DUAL_ELEMENT_FUSE || device == SAG_DEVICE_NONTIME_FUSE;
    return (struct sag_device_share){
        .base = PERCENT * sag_table_number(used, row, columns[device][0]),
        .most = PERCENT * sag_table_number(used, row, most),
        .most_over_600 = PERCENT * sag_table_number(used, row, fuse ? MOST_FUSE_LARGE : most),
        .table = used->table,
        .from_memory = used->table->from_memory[row],
    };
}

struct sag_transformer_share sag_ask_transformer_share(const struct sag_tables *tables, bool has_secondary_device,
                                                       bool secondary_winding, double rated_amps)
{
    enum {
        PROTECTION,
        WINDING,
        FROM,
        BELOW,
        SHARE,
        NEXT_UP
    };
    const struct used_table *used = sag_used_table(tables, USE_TRANSFORMER_SHARES);
    const char *protection = has_secondary_device ? "primary_and_secondary" : "primary_only";
    for (size_t row = 0; row < used->table->rows; row++) {
        double below = sag_table_number(used, row, BELOW);
        if (strcmp(sag_table_text(used, row, PROTECTION), protection) == 0 &&
            strcmp(sag_table_text(used, row, WINDING), secondary_winding ? "secondary" : "primary") == 0 &&
            rated_amps >= sag_table_number(used, row, FROM) && (isnan(below) || rated_amps < below))
            return (struct sag_transformer_share){PERCENT * sag_table_number(used, row, SHARE),
                                                  sag_table_number(used, row, NEXT_UP) > 0, true,
                                                  used->table->from_memory[row]};
    }
    return (struct sag_transformer_share){NAN, false, false, false};
}

struct sag_class_times sag_ask_class_times(const struct sag_tables *tables, const char *trip_class)
{
    enum {
        CLASS,
        LEAST,
        MOST,
        MULTIPLE
    };
    const struct used_table *used = sag_used_table(tables, USE_TRIP_CLASSES);
    size_t row = sag_row_named(used, trip_class);
    if (row == used->table->rows)
        return (struct sag_class_times){NAN, NAN, NAN, false, false};
    return (struct sag_class_times){sag_table_number(used, row, LEAST), sag_table_number(used, row, MOST),
                                    sag_table_number(used, row, MULTIPLE), true, used->table->from_memory[row]};
}

static const char *device_word(enum sag_device device)
{
    return sag_choice_word(SAG_DEVICE, device);
}

/* The first row of each multiple whose ratings reach up to this one counts: rows stand in rising order of rating. */
struct sag_opening_times sag_ask_standard_times(const struct sag_tables *tables, enum sag_device device, double rating,
                                                double multiple)
{
    enum {
        DEVICE,
        UP_TO,
        MULTIPLE,
        HOLDS,
        OPENS
    };
    const struct used_table *used = sag_used_table(tables, USE_DEVICE_TIMES);
    struct sag_opening_times times = {multiple <= 1 ? INFINITY : 0, INFINITY};
    double taken = NAN; /* multiple whose row was found */
    for (size_t row = 0; row < used->table->rows; row++) {
        double at = sag_table_number(used, row, MULTIPLE);
        if (strcmp(sag_table_text(used, row, DEVICE), device_word(device)) != 0 ||
            rating > sag_table_number(used, row, UP_TO) || at == taken)
            continue;
        taken = at;
        double holds = sag_table_number(used, row, HOLDS), opens = sag_table_number(used, row, OPENS);
        if (!isnan(holds) && multiple <= at)
            times.least = fmax(times.least, holds);
        if (!isnan(opens) && multiple >= at)
            times.most = fmin(times.most, opens);
    }
    return times;
}

static double between(double low, double high, double weight)
{
    return exp(log(low) + weight * log(high / low));
}

struct sag_opening_times sag_ask_usual_times(const struct sag_tables *tables, enum sag_device device, double multiple)
{
    enum {
        DEVICE,
        MULTIPLE,
        FASTEST,
        SLOWEST
    };
    const struct used_table *used = sag_used_table(tables, USE_TYPICAL_CURVES);
    const struct row_filter filters[] = {{.column = DEVICE, .text = device_word(device)}};
    struct bracket b = sag_bracket(used, MULTIPLE, multiple, filters, 1);
    if (!b.found || multiple < sag_table_number(used, b.below, MULTIPLE))
        return (struct sag_opening_times){INFINITY, INFINITY};
    double low = sag_table_number(used, b.below, MULTIPLE), high = sag_table_number(used, b.above, MULTIPLE);
    double weight = high > low ? log(multiple / low) / log(high / low) : 0;
    return (struct sag_opening_times){
        between(sag_table_number(used, b.below, FASTEST), sag_table_number(used, b.above, FASTEST), weight),
        between(sag_table_number(used, b.below, SLOWEST), sag_table_number(used, b.above, SLOWEST), weight)};
}

struct sag_answer sag_ask_protection_default(const struct sag_tables *tables, const char *quantity)
{
    return sag_answer_named(sag_used_table(tables, USE_PROTECT_DEFAULTS), quantity);
}

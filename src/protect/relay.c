/* Overload relays: the curve of a trip class as the standard bounds it, or a maker's own. */
#include <math.h>
#include <stdlib.h>

#include "base/number.h"
#include "sagband/protect.h"

/* The class that a relay may have when nobody says: bounds of the row, by their words in the table of classes. */
static void assume_class(const struct sag_tables *tables, bool iec, struct sag_relay *relay)
{
    struct sag_answer usual = sag_ask_protection_default(tables, iec ? "trip_class_iec" : "trip_class_nema");
    char word[SAG_NUMBER_ROOM];
    relay->least = sag_ask_class_times(tables, sag_number_figures(word, usual.low, 3)).least;
    relay->most = sag_ask_class_times(tables, sag_number_figures(word, usual.high, 3)).most;
    relay->multiple = sag_ask_class_times(tables, word).multiple;
    relay->class_assumed = true;
}

struct sag_relay sag_relay_of(const struct sag_tables *tables, const struct sag_motor_size *size,
                              const struct sag_motor *motor, struct sag_curve curve)
{
    bool fire_pump = motor->plate->choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP;
    uint8_t word = motor->plate->choice[SAG_TRIP_CLASS];
    double set = motor->plate->given[SAG_OVERLOAD_AMPS];
    struct sag_relay relay = {.trip_amps = isnan(set) ? size->overload.value : set, .curve = curve};
    if (size->sizing == SAG_SIZED_LOCAL) /* there a relay's dial reads in plate amps */
        relay.trip_amps =
            (isnan(set) ? size->plate_amps.value : set) * sag_ask_protection_default(tables, "relay_ultimate").value;
    if (word == SAG_TRIP_CLASS_BLANK) {
        assume_class(tables, size->sizing == SAG_SIZED_LOCAL, &relay);
    } else {
        struct sag_class_times times = sag_ask_class_times(tables, sag_choice_word(SAG_TRIP_CLASS, word));
        relay.least = times.least;
        relay.most = times.most;
        relay.multiple = times.multiple;
    }
    relay.likely = sqrt(relay.least * relay.most);
    if (fire_pump && isnan(set))
        relay.trip_amps = NAN; /* whatever its plate, it has none unless the list says so */
    if (motor->plate->choice[SAG_STARTING] == SAG_STARTING_DRIVE)
        relay.trip_amps = NAN; /* it limits its own amps and watches the motor itself */
    return relay;
}

/* A winding of one time constant: with x = I / I_trip, t = tau ln((x^2 - p^2) / (x^2 - 1)). */
static double time_constants(double x, double preload)
{
    if (x <= 1)
        return INFINITY;
    return preload >= 1 ? 0 : log((x * x - preload * preload) / (x * x - 1));
}

/* tau is such that from cold the class's time is met at its multiple of the setting, I_trip being `ultimate` times
   that. */
static double class_time(double seconds, double multiple, double ultimate, const double amps[2])
{
    double at = multiple / ultimate;
    return seconds / log(at * at / (at * at - 1)) * time_constants(amps[0], amps[1]);
}

/* A maker's curve is drawn from cold, in multiples of the setting; warm it is as much shorter as the model has it.
   Below its first point it does not trip, however warm. */
static double own_time(const struct sag_relay *relay, double ultimate, const double x[2])
{
    double cold = sag_curve_time(&relay->curve, x[0] * ultimate);
    return x[0] > 1 && x[1] > 0 && isfinite(cold) ? cold * time_constants(x[0], x[1]) / time_constants(x[0], 0) : cold;
}

struct sag_qty sag_relay_time(const struct sag_tables *tables, const struct sag_relay *relay, double amps,
                              double preload)
{
    struct sag_answer ultimate = sag_ask_protection_default(tables, "relay_ultimate");
    if (isnan(relay->trip_amps))
        return sag_unknown();
    const double x[2] = {amps / relay->trip_amps, preload};
    if (relay->curve.count)
        return sag_exact(own_time(relay, ultimate.value, x), SAG_MEASURED);
    struct sag_qty time = sag_between(class_time(relay->likely, relay->multiple, ultimate.value, x),
                                      class_time(relay->least, relay->multiple, ultimate.high, x),
                                      class_time(relay->most, relay->multiple, ultimate.low, x), SAG_TABLE);
    return time;
}

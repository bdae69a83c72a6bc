/* The volts between a motor's own terminals, and the band its plate allows there. */
#include <math.h>

#include "judge/parts.h"

#define BAND_MARGIN                                                                                                    \
    0.02 /* of rated volts: less than that to an edge is watched; a good meter's error, common practice */

struct sag_connection connection_of(const struct sag_board *board)
{
    return (struct sag_connection){board->volts_nominal, board->hz, board->neutral_share};
}

/* NEMA: 10 % volts, 5 % frequency, and both together no more than 10 %. A plate of another frequency is judged by flux
   instead: the same share of volts to hertz. */
static void band_nema(const struct sag_tables *tables, double rated, double hz_share, struct sag_terminals *t)
{
    struct sag_limits volts = sag_ask_limits(tables, "NEMA MG 1 12.44.1", "voltage only");
    double hz_off = fabs(hz_share - 1);
    double less = t->by_flux ? 0 : hz_off;
    double scale = t->by_flux ? hz_share : 1;
    t->band_low = rated * scale * (volts.volts_low + less);
    t->band_high = rated * scale * (volts.volts_high - less);
    t->watch_low = t->band_low + BAND_MARGIN * rated;
    t->watch_high = t->band_high - BAND_MARGIN * rated;
    t->band_source = t->by_flux ? "NEMA MG 1 12.44.1, by flux" : "NEMA MG 1 12.44.1";
}

/* IEC: zone A for always, zone B for short and rare; inside B but outside A is watched. */
static void band_iec(const struct sag_tables *tables, double rated, double hz_share, struct sag_terminals *t)
{
    struct sag_limits a = sag_ask_limits(tables, "IEC 60034-1 7.3 zone A", "continuous");
    struct sag_limits b = sag_ask_limits(tables, "IEC 60034-1 7.3 zone B", "short and rare");
    double scale = t->by_flux ? hz_share : 1;
    t->band_low = rated * scale * b.volts_low;
    t->band_high = rated * scale * b.volts_high;
    t->watch_low = rated * scale * a.volts_low;
    t->watch_high = rated * scale * a.volts_high;
    t->band_source =
        t->by_flux ? "IEC 60034-1 7.3 zone B, by flux (from memory)" : "IEC 60034-1 7.3 zone B (from memory)";
}

const struct sag_board *board_of(const struct sag_plant *plant, const struct sag_plate *plate)
{
    return &plant->boards[plate->feeder];
}

static const struct sag_motor_volts *network_volts(const struct sag_plant *plant, const struct sag_plate *plate)
{
    return plant->volts ? &plant->volts[plate - plant->list->plates] : NULL;
}

struct sag_qty volts_at_board(const struct sag_plant *plant, const struct sag_plate *plate, enum sag_case which)
{
    const struct sag_qty *board = &board_of(plant, plate)->of[which].volts;
    const struct sag_motor_volts *own = network_volts(plant, plate);
    return own ? sag_scaled(*board, own->at_board[which] / board->value) : *board;
}

static struct sag_qty volts_at_motor(const struct sag_plant *plant, const struct sag_motor *motor, enum sag_case which)
{
    const struct sag_qty *board = &board_of(plant, motor->plate)->of[which].volts;
    const struct sag_motor_volts *own = network_volts(plant, motor->plate);
    return sag_scaled(*board, own ? own->at_motor[which] / board->value : motor->terminal_share);
}

void find_terminals(const struct sag_plant *plant, const struct sag_motor *motor, enum sag_case which,
                    struct sag_terminals *t)
{
    const double most_hz_off = 0.05; /* NEMA MG 1 12.44.1 */
    const struct sag_tables *tables = plant->tables;
    const struct sag_board *board = board_of(plant, motor->plate);
    const struct sag_board_case *at_board = &board->of[which];
    double rated = motor->fact[SAG_RATED_VOLTS].value;
    double hz_share = board->hz / motor->fact[SAG_HZ].value;
    *t = (struct sag_terminals){
        .volts = volts_at_motor(plant, motor, which),
        .hz = board->hz,
        .unbalance = motor->fact[SAG_PHASES].value == 3 ? at_board->unbalance : 0,
        .negative_share = motor->fact[SAG_PHASES].value == 3 ? at_board->negative_share : 0,
        .by_flux = fabs(hz_share - 1) > most_hz_off + 1e-9,
        .derate = NAN,
    };
    t->lowest_pair = t->volts.low;
    t->over_time = at_board->over_time;
    if (t->over_time) {
        const double *line = at_board->line;
        t->lowest_pair = t->volts.value * 3 * fmin(line[0], fmin(line[1], line[2])) / (line[0] + line[1] + line[2]);
    }
    t->volts_share = t->volts.value / rated;
    t->flux_share = t->volts_share / hz_share;
    if (which == SAG_CASE_MEASURED && motor->fact[SAG_PHASES].value == 3)
        t->derate = sag_ask_unbalance_derating(tables, t->unbalance).value;
    if (motor->iec)
        band_iec(tables, rated, hz_share, t);
    else
        band_nema(tables, rated, hz_share, t);
}

struct sag_band sag_find_band(const struct sag_plant *plant, size_t motor)
{
    struct sag_motor completed;
    struct sag_terminals t;
    const struct sag_plate *plate = &plant->list->plates[motor];
    struct sag_connection connection = connection_of(board_of(plant, plate));
    sag_complete_motor(plant->tables, plate, &connection, &completed);
    find_terminals(plant, &completed, SAG_CASE_NOMINAL, &t);
    return (struct sag_band){t.band_low, t.band_high};
}

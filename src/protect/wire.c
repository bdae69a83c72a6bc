/* What conductors may carry, and the smallest that will do. */
#include <math.h>
#include <string.h>

#include "protect/parts.h"

enum {
    MOST_SETS = 12 /* more than any switchboard has lugs for */
};
#define LEAST_IN_PARALLEL "1/0" /* NFPA 70-2023 310.10(G) */
#define LARGEST_SINGLE    "500" /* kcmil: above it sets in parallel are easier to pull; common practice, no source */

static double default_of(const struct sag_tables *tables, const char *quantity)
{
    return sag_ask_protection_default(tables, quantity).value;
}

static double or_default(double given, const struct sag_tables *tables, const char *quantity)
{
    return isnan(given) ? default_of(tables, quantity) : given;
}

/* Everything but the size. */
static struct sag_wire wire_in_place(const struct sag_tables *tables, const struct sag_wiring *wiring,
                                     double circuit_amps)
{
    const int usual_insulation_c = 75; /* in plants; common practice, no source. A hotter one is an option */
    struct sag_wire wire = {.sets = wiring->sets ? wiring->sets : 1, .material = wiring->material};
    if (wire.material == SAG_MATERIAL_BLANK)
        wire.material = SAG_MATERIAL_CU;
    wire.insulation_c = wiring->insulation_c ? wiring->insulation_c : usual_insulation_c;
    wire.terminal_c = wiring->terminal_c ? wiring->terminal_c
                                         : sag_ask_terminal_column(tables, circuit_amps,
                                                                   wiring->design_bcd && wire.insulation_c >= 75);
    wire.ambient_factor =
        sag_ask_ambient_factor(tables, or_default(wiring->ambient_c, tables, "ambient"), wire.insulation_c);
    wire.count_factor = sag_ask_count_factor(tables, or_default(wiring->conductors, tables, "conductors"));
    return wire;
}

#define HAIR 1e-9 /* share of amps; below any figure of a table, above what sums of binary numbers leave */

/* Rounded down, never up; a hair keeps 0.8 x 40 at 32. NAN: the table has no such conductor, or none at this ambient.
 */
static void put_size(const struct sag_tables *tables, size_t size, bool by_rule, struct sag_wire *wire)
{
    wire->column_amps = sag_ask_ampacity(tables, size, wire->material, wire->insulation_c);
    /* terminals that take more than 1 AWG are marked for 75 C, whatever the circuit's amps: 110.14(C)(1)(b) */
    bool large = by_rule && size >= sag_find_conductor_size(tables, LEAST_IN_PARALLEL);
    if (large)
        wire->terminal_c = 75;
    wire->terminal_amps = sag_ask_ampacity(tables, size, wire->material, wire->terminal_c);
    double corrected = wire->column_amps * wire->ambient_factor * wire->count_factor;
    double one = isnan(corrected) ? NAN : fmin(corrected, wire->terminal_amps);
    wire->amps = wire->sets * floor(one * (1 + HAIR));
}

struct sag_wire sag_rate_wire(const struct sag_tables *tables, const struct sag_wiring *wiring, const char *size,
                              double circuit_amps)
{
    struct sag_wire wire = wire_in_place(tables, wiring, circuit_amps);
    size_t at = size && *size ? sag_find_conductor_size(tables, size) : SIZE_MAX;
    wire.amps = NAN;
    if (at == SIZE_MAX || !sag_conductor_size(tables, at))
        return wire;
    put_size(tables, at, wiring->terminal_c == 0, &wire);
    if (!isnan(wire.amps))
        wire.size = size;
    return wire;
}

/* Sizes that the table of impedances leaves out are hardly made, and no drop could be computed with them. */
static bool is_made(const struct sag_tables *tables, const char *size)
{
    return !isnan(sag_ask_cable(tables, size, SAG_MATERIAL_CU, SAG_RACEWAY_STEEL).ohms_x);
}

/* Sizes to look at, and whether their terminals go by the rule. */
struct size_range {
    size_t from, to;
    bool by_rule;
};

/* The smallest size of the range of which the sets carry the amps; a sum that is a size's own amps is met by that size,
   in whatever order it was added up. */
static bool find_size(const struct sag_tables *tables, double amps, const struct size_range *range,
                      struct sag_wire *wire)
{
    for (size_t i = range->from; i <= range->to; i++) {
        put_size(tables, i, range->by_rule, wire);
        const char *size = sag_conductor_size(tables, i);
        if (!isnan(wire->amps) && wire->amps >= amps * (1 - HAIR) && is_made(tables, size)) {
            wire->size = size;
            return true;
        }
    }
    return false;
}

static size_t last_size(const struct sag_tables *tables)
{
    size_t last = 0;
    while (sag_conductor_size(tables, last + 1))
        last++;
    return last;
}

struct sag_wire sag_choose_wire(const struct sag_tables *tables, const struct sag_wiring *wiring, double amps)
{
    struct sag_wire wire = wire_in_place(tables, wiring, amps);
    const size_t single = sag_find_conductor_size(tables, LARGEST_SINGLE);
    const size_t least = sag_find_conductor_size(tables, LEAST_IN_PARALLEL);
    int first = wiring->sets ? wiring->sets : 1, last = wiring->sets ? wiring->sets : MOST_SETS;
    for (wire.sets = first; wire.sets <= last; wire.sets++) {
        const struct size_range range = {wire.sets > 1 ? least : 0, wiring->sets ? last_size(tables) : single,
                                         wiring->terminal_c == 0};
        if (find_size(tables, amps, &range, &wire))
            return wire;
    }
    wire = wire_in_place(tables, wiring, amps);
    wire.amps = NAN;
    return wire;
}

struct sag_wiring usual_wiring(const struct sag_size_job *job)
{
    return (struct sag_wiring){
        .ambient_c = NAN, .conductors = NAN, .insulation_c = job->insulation_c, .terminal_c = job->terminal_c};
}

struct sag_wire choose_protected_wire(const struct sag_tables *tables, const struct sag_wiring *wiring, double amps,
                                      double device_amps)
{
    struct sag_wire wire = sag_choose_wire(tables, wiring, amps);
    while (wire.size && sag_ask_small_wire_limit(tables, wire.size, wire.material) < device_amps)
        wire = sag_choose_wire(tables, wiring, wire.amps + 1);
    return wire;
}

const char *ground_for(const struct sag_tables *tables, double device_amps, const struct sag_wire *wire)
{
    const char *ground = isnan(device_amps) ? NULL : sag_ask_ground_conductor(tables, device_amps, wire->material);
    if (!ground || !wire->size)
        return NULL;
    bool larger = sag_ask_conductor_area(tables, ground) > sag_ask_conductor_area(tables, wire->size);
    return larger && wire->sets == 1 ? wire->size : ground;
}

static double area_of(const struct sag_tables *tables, const struct sag_wire *wire)
{
    return wire->size ? wire->sets * sag_ask_conductor_area(tables, wire->size) : NAN;
}

const char *sag_larger_ground(const struct sag_tables *tables, const char *ground, const struct sag_wire *least,
                              const struct sag_wire *installed)
{
    const double hair = 1e-6;
    double ratio = area_of(tables, installed) / area_of(tables, least);
    if (!ground || isnan(ratio) || ratio <= 1 + hair || installed->material != least->material)
        return NULL;
    double wanted = ratio * sag_ask_conductor_area(tables, ground);
    const char *size;
    for (size_t i = 0; (size = sag_conductor_size(tables, i)); i++)
        if (sag_ask_conductor_area(tables, size) >= wanted * (1 - hair))
            return size;
    return NULL;
}

/* Motor lists to measure with: generate ROWS [PLATES]. The same arguments always give the same bytes. Without PLATES
   no two rows ask for the same circuit; with it, that many plates repeat over the rows. */
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Four-pole motors as they are sold: hp, percent efficiency, power factor, slip, code letter. Rounded, common
   practice. */
static const struct size {
    double hp, efficiency, power_factor, slip;
    char letter;
} sizes[] = {
    {1, 82.5, 0.72, 0.033, 'M'},   {1.5, 84.0, 0.75, 0.032, 'M'}, {2, 84.0, 0.77, 0.031, 'L'},
    {3, 86.5, 0.80, 0.030, 'K'},   {5, 87.5, 0.82, 0.029, 'J'},   {7.5, 89.5, 0.83, 0.024, 'H'},
    {10, 89.5, 0.84, 0.024, 'H'},  {15, 91.0, 0.85, 0.021, 'G'},  {20, 91.0, 0.85, 0.020, 'G'},
    {25, 92.4, 0.85, 0.018, 'G'},  {30, 92.4, 0.86, 0.017, 'G'},  {40, 93.0, 0.86, 0.015, 'G'},
    {50, 93.0, 0.86, 0.015, 'G'},  {60, 93.6, 0.86, 0.013, 'G'},  {75, 94.1, 0.86, 0.013, 'G'},
    {100, 94.1, 0.87, 0.012, 'G'}, {125, 94.5, 0.87, 0.011, 'G'}, {150, 95.0, 0.87, 0.010, 'G'},
    {200, 95.0, 0.87, 0.010, 'G'}, {250, 95.0, 0.87, 0.009, 'G'}, {300, 95.4, 0.88, 0.009, 'G'},
    {350, 95.4, 0.88, 0.008, 'G'}, {400, 95.4, 0.88, 0.008, 'G'}, {450, 95.4, 0.88, 0.008, 'G'},
    {500, 95.8, 0.88, 0.008, 'G'},
};

enum {
    SIZES = sizeof sizes / sizeof *sizes
};

struct plate {
    const struct size *size;
    const char *volts, *design, *load;
    double efficiency, power_factor, slip;
    int poles, year, load_percent;
    double line_volts;
    char letter;
};

/* splitmix64: a plate is a function of its number alone. */
static uint64_t next(uint64_t *state)
{
    uint64_t z = (*state += 0x9E3779B97F4A7C15U);
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9U;
    z = (z ^ z >> 27) * 0x94D049BB133111EBU;
    return z ^ z >> 31;
}

static double share(uint64_t *state)
{
    return (double)(next(state) >> 11) * 0x1p-53;
}

static unsigned below(uint64_t *state, unsigned count)
{
    return (unsigned)(next(state) % count);
}

/* 0 to 1, another value for each of the first million numbers and more. */
static double own_share(uint64_t number)
{
    const uint64_t prime = 1000003, stride = 611953;
    return (double)(number % prime * stride % prime) / (double)prime;
}

static struct plate plate_of(uint64_t number)
{
    static const char *const volts[] = {"460", "460", "230/460", "440"};
    static const char *const designs[] = {"B", "B", "B", "B", "B", "B", "B", "A", "C", ""};
    static const char *const loads[] = {"pump", "fan", "conveyor", "compressor", ""};
    static const int poles[] = {4, 4, 4, 4, 2, 2, 6, 8};
    uint64_t state = number;
    struct plate p = {.size = &sizes[below(&state, SIZES)]};
    unsigned v = below(&state, 4);
    p.volts = volts[v];
    p.line_volts = v == 3 ? 440 : 460;
    p.design = designs[below(&state, 10)];
    p.load = loads[below(&state, 5)];
    p.poles = poles[below(&state, 8)];
    p.year = 1985 + (int)below(&state, 38);
    p.load_percent = 50 + 5 * (int)below(&state, 11);
    p.letter = p.size->letter;
    if (p.letter != 'H' && below(&state, 4) == 0)
        p.letter++; /* no letter I */
    p.slip = p.size->slip * (0.85 + 0.3 * share(&state));
    p.efficiency = p.size->efficiency - 1.2 + 2.4 * own_share(number);
    p.power_factor = p.size->power_factor - 0.04 * (p.poles / 2 - 2) - 0.03 + 0.06 * own_share(number + 500000);
    return p;
}

static double amps_of(const struct plate *p)
{
    return p->size->hp * 746 / (sqrt(3.0) * p->line_volts * p->efficiency / 100 * p->power_factor);
}

/* Blanks as plates have them: a missing power factor leaves the amps, and one of efficiency and power factor stays. */
static void print_plate(const struct plate *p, uint64_t number)
{
    uint64_t state = ~number;
    bool no_efficiency = below(&state, 10) == 0;
    bool no_power_factor = !no_efficiency && below(&state, 5) == 0;
    printf("%s,%g,%.0f,", p->volts, p->size->hp, floor(7200.0 / p->poles * (1 - p->slip)));
    if (!no_efficiency)
        printf("%.7f", p->efficiency);
    putchar(',');
    if (!no_power_factor)
        printf("%.8f", p->power_factor);
    putchar(',');
    if (no_power_factor || below(&state, 3))
        printf("%.1f", amps_of(p));
    printf(",%s,", p->design);
    if (below(&state, 4))
        putchar(p->letter);
    printf(",%s,F,%d,%s,%d\n", below(&state, 3) ? "1.15" : "", p->year, p->load, p->load_percent);
}

int main(int argc, char **argv)
{
    unsigned long long rows = argc > 1 ? strtoull(argv[1], NULL, 10) : 0;
    unsigned long long plates = argc > 2 ? strtoull(argv[2], NULL, 10) : rows;
    if (rows == 0 || plates == 0) {
        fputs("usage: generate ROWS [PLATES]\n", stderr);
        return 2;
    }
    puts("tag,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,rated_amps,design,code_letter,service_factor,"
         "insulation,year,load,load_pct");
    for (unsigned long long i = 0; i < rows; i++) {
        struct plate p = plate_of(i % plates);
        printf("M-%07llu,", i + 1);
        print_plate(&p, i % plates);
    }
    return fflush(stdout) != 0 || ferror(stdout);
}

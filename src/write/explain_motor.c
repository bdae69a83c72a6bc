/* The calculation sheet of one motor, in the order in which it is worked out. */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/number.h"
#include "write/sheet.h"

struct sheet {
    const struct sag_sheet_job *job;
    const struct sag_plant *plant;
    const struct sag_supply *supply; /* NULL when volts were typed */
    const struct sag_result *result;
    const struct sag_units *units;
    struct sag_lines *lines;
};

/* Which facts stand in which section. */
static const struct {
    const char *section;
    enum sag_fact facts[14];
    int count;
} sections[] = {
    {"Plate",
     {SAG_RATED_VOLTS, SAG_RATED_POWER, SAG_PHASES, SAG_HZ, SAG_POLES, SAG_SYNC_RPM, SAG_SLIP, SAG_RPM, SAG_YEAR,
      SAG_SERVICE_FACTOR},
     10},
    {"Full-load amps", {SAG_EFFICIENCY, SAG_POWER_FACTOR, SAG_COMPUTED_AMPS, SAG_RATED_AMPS, SAG_TABLE_AMPS}, 5},
    {"Locked rotor and torque",
     {SAG_LOCKED_KVA, SAG_LOCKED_AMPS, SAG_RATED_TORQUE, SAG_LOCKED_TORQUE, SAG_BREAKDOWN_TORQUE, SAG_STALL_TIME},
     6},
    {"Load and heat",
     {SAG_LOAD_POWER, SAG_LOAD_SHARE, SAG_ROTOR_INERTIA, SAG_LOAD_INERTIA, SAG_RISE, SAG_RISE_LIMIT, SAG_MAIN_FLUX},
     7},
};

/* --us shows torque and inertia in foot-pounds; everything else is the same in both. */
static const char *in_units(const struct sheet *s, struct sag_qty *value, const char *unit)
{
    if (!s->units->si && strcmp(unit, "N m") == 0) {
        *value = sag_scaled(*value, 1 / SAG_NM_PER_LBFT);
        return "lb ft";
    }
    if (!s->units->si && strcmp(unit, "kg m2") == 0) {
        *value = sag_scaled(*value, 1 / SAG_KGM2_PER_LBFT2);
        return "lb ft2";
    }
    return unit;
}

/* Of what a list gives, the part that stands on a nameplate. */
static bool is_on_plate(enum sag_fact fact)
{
    return fact != SAG_LOAD_SHARE && fact != SAG_LOAD_POWER && fact != SAG_LOAD_INERTIA && fact != SAG_YEAR;
}

static void add_facts(const struct sheet *s)
{
    const struct sag_motor *motor = &s->result->motor;
    struct symbols symbols = {.motor = motor};
    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++)
        for (int j = 0; j < sections[i].count; j++) {
            enum sag_fact fact = sections[i].facts[j];
            const struct sag_fact_words *words = sag_fact_words(fact);
            struct sag_qty value = motor->fact[fact];
            const char *unit = in_units(s, &value, words->unit);
            if (!sag_known(&value))
                continue;
            const char *formula = value.rule ? value.rule->formula : NULL;
            if (formula && unit != words->unit && strpbrk(formula, "*/"))
                formula = sheet_text(s->lines, "%s * 0.73756", formula);
            add_line(s->lines, &symbols,
                     (struct sag_line){.section = sections[i].section,
                                       .formula = formula,
                                       .symbol = words->symbol,
                                       .words = words->words,
                                       .value = value,
                                       .unit = unit,
                                       .origin = value.origin == SAG_NAMEPLATE && !is_on_plate(fact) ? "given" : NULL,
                                       .source = value.rule          ? NULL
                                                 : is_on_plate(fact) ? "read from the plate"
                                                                     : "motor list",
                                       .figures = words->figures});
        }
}

/* --- supply and band -------------------------------------------------------------------------------------------- */

/* Source volts, line to line, for a volt at the terminals: what headroom means to whoever sets a tap. */
static double source_per_board(const struct sheet *s)
{
    int32_t node = s->plant->list->feeders[s->result->motor.plate->feeder].node;
    if (!s->supply || node < 0)
        return 1;
    return 1 / ratio_from_source(s->supply, node) / s->result->motor.terminal_share;
}

struct band_line {
    const char *symbol, *words, *formula, *unit, *source, *note;
    double value;
    int figures;
};

static void add_band_line(const struct sheet *s, const char *section, const struct symbols *symbols,
                          const struct band_line *b)
{
    if (isnan(b->value))
        return;
    add_line(s->lines, symbols,
             (struct sag_line){.section = section,
                               .symbol = b->symbol,
                               .words = b->words,
                               .formula = b->formula,
                               .value = sag_exact(b->value, SAG_COMPUTED),
                               .unit = b->unit,
                               .source = b->source,
                               .note = b->note,
                               .figures = b->figures});
}

/* How a band's edge came about: rated frequency, a little off it, or another frequency altogether. */
static const char *edge_formula(const struct sheet *s, const struct sag_terminals *t, bool upper)
{
    bool off = fabs(t->hz / s->result->motor.fact[SAG_HZ].value - 1) > 1e-9;
    if (t->by_flux)
        return upper ? "1.1 * V_r * f_s / f_r" : "0.9 * V_r * f_s / f_r";
    if (off && !s->result->motor.iec)
        return upper ? "(1.1 - |f_s / f_r - 1|) * V_r" : "(0.9 + |f_s / f_r - 1|) * V_r";
    return upper ? "1.1 * V_r" : "0.9 * V_r";
}

static const char *phase_words(const struct sag_motor *motor, const char *sum)
{
    return !motor->line_to_neutral ? "" : motor->terminal_share == 0.5 ? " / 2" : *sum ? " / sqrt3" : "";
}

/* Volts without current, less what the path and the branch cable lose; measured volts have the path's loss in them. */
static void add_network_volts(const struct sheet *s, const char *section, enum sag_case which)
{
    const struct sag_motor *motor = &s->result->motor;
    const struct sag_motor_volts *own = &s->plant->volts[s->result->index];
    const struct sag_board *board = &s->plant->boards[motor->plate->feeder];
    bool measured = which == SAG_CASE_MEASURED;
    struct no_load start =
        measured ? (struct no_load){board->of[which].volts.value, ""}
                 : no_load_volts(s->lines, s->job, s->plant->list->feeders[motor->plate->feeder].node, which);
    double at_board = own->at_board[which], at_motor = own->at_motor[which] / motor->terminal_share;
    const struct symbol extra[] = {{"V_0", start.volts, 8},
                                   {"d_p", start.volts - at_board, 5},
                                   {"d_b", fabs(at_board - at_motor) < 1e-6 ? 0 : at_board - at_motor, 5}};
    struct symbols symbols = {NULL, extra, 3};
    struct sag_qty volts = s->result->of[which].terminals.volts;
    add_line(s->lines, &symbols,
             (struct sag_line){.section = section,
                               .symbol = "V_0",
                               .words = measured ? "volts at the board, with its load"
                                                 : "volts at the board without current",
                               .formula = *start.numbers ? "ratios and taps" : "",
                               .numbers = *start.numbers ? start.numbers : NULL,
                               .value = sag_exact(start.volts, measured ? SAG_MEASURED : SAG_COMPUTED),
                               .unit = "V",
                               .source = measured ? board->of[which].volts.rule->source : "",
                               .figures = 5});
    add_line(
        s->lines, &symbols,
        (struct sag_line){
            .section = section,
            .symbol = "V_t",
            .words = motor->line_to_neutral ? "volts at the terminals, line to neutral" : "volts at the terminals",
            .formula = sheet_text(s->lines, "%sV_0 - d_p - d_b%s", motor->line_to_neutral ? "(" : "",
                                  motor->line_to_neutral ? sheet_text(s->lines, ")%s", phase_words(motor, "s")) : ""),
            .value = volts,
            .unit = "V",
            .source = "",
            .note = "d_p: lost in the path above the board; d_b: in the branch cable",
            .figures = 5});
}

static void add_terminal_volts(const struct sheet *s, const char *section, enum sag_case which)
{
    const struct sag_motor *motor = &s->result->motor;
    const struct sag_motor_case *c = &s->result->of[which];
    if (s->plant->volts) {
        add_network_volts(s, section, which);
        return;
    }
    add_line(s->lines, &(struct symbols){0},
             (struct sag_line){.section = section,
                               .symbol = "V_t",
                               .words = motor->line_to_neutral ? "volts at the terminals, line to neutral"
                                                               : "volts at the terminals, no drop counted",
                               .value = c->terminals.volts,
                               .origin = c->supply_volts.origin == SAG_NAMEPLATE ? "given" : NULL,
                               .unit = "V",
                               .figures = 5});
}

static void add_band(const struct sheet *s, enum sag_case which)
{
    const struct sag_motor *motor = &s->result->motor;
    const struct sag_motor_case *c = &s->result->of[which];
    const struct sag_terminals *t = &c->terminals;
    const char *section =
        sheet_text(s->lines, "Band, %s case: %s", sag_case_word(which), sag_verdict_word(c->band_verdict));
    const struct symbol extra[] = {{"V_t", t->volts.value, 8},   {"V_lo", t->band_low, 8},
                                   {"V_hi", t->band_high, 8},    {"f_s", t->hz, 4},
                                   {"u", 100 * t->unbalance, 3}, {"k_s", source_per_board(s), 8}};
    struct symbols symbols = {motor, extra, sizeof extra / sizeof *extra};
    double to_low = t->volts.value - t->band_low, to_high = t->band_high - t->volts.value;
    add_terminal_volts(s, section, which);
    const struct band_line lines[] = {
        {"V_t/V_r", "share of plate volts", "100 * V_t / V_r", "%", "", "", 100 * t->volts_share, 5},
        {"V_lo", "lower edge of the band", edge_formula(s, t, false), "V", t->band_source, "", t->band_low, 5},
        {"V_hi", "upper edge of the band", edge_formula(s, t, true), "V", t->band_source, "", t->band_high, 5},
        {"V_t-V_lo", "volts left to the lower edge", "V_t - V_lo", "V", "", "", to_low, 4},
        {"V_hi-V_t", "volts left to the upper edge", "V_hi - V_t", "V", "", "", to_high, 4},
        {"", "the same at the source, lower edge", "k_s * (V_t - V_lo)", "V", "k_s: source volts a terminal volt", "",
         s->supply ? source_per_board(s) * to_low : NAN, 5},
        {"", "the same at the source, upper edge", "k_s * (V_hi - V_t)", "V", "k_s: source volts a terminal volt", "",
         s->supply ? source_per_board(s) * to_high : NAN, 5},
        {"flux", "volts to hertz against the plate", "100 * (V_t / V_r) / (f_s / f_r)", "%", "", "",
         100 * t->flux_share, 4},
        {"u", "unbalance: largest deviation over average", "", "%", "NEMA MG 1 14.36.2", "",
         isnan(t->derate) ? NAN : 100 * t->unbalance, 3},
        {"u_2", "negative over positive sequence volts", "", "%", "IEC 61000-4-30 5.7 (from memory)", "",
         isnan(t->derate) ? NAN : 100 * t->negative_share, 3},
        {"k_u", "share of rated power left at this unbalance", "curve at u", "", "NEMA MG 1 14.36, figure 14-1", "",
         t->derate, 3},
    };
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        add_band_line(s, section, &symbols, &lines[i]);
}

/* --- circuit ---------------------------------------------------------------------------------------------------- */

static void add_circuit(const struct sheet *s)
{
    const struct sag_machine *m = &s->result->machine;
    struct sag_base base = sag_base_of(&s->result->motor);
    struct symbols none = {0};
    const char *section = sheet_text(s->lines, "Circuit, ohms a phase (star): %s", sag_fit_words(m->way));
    const char *suspect = sag_suspect(m);
    const struct band_line lines[] = {
        {"R_1", "stator resistance, stray loss in it", "", "ohm", "rated losses divided, common practice", "",
         m->stator_r * base.ohms, 4},
        {"X_1", "stator leakage", "", "ohm", "fitted", "", m->stator_x * base.ohms, 4},
        {"R_c", "core loss", "", "ohm", "a fifth of the rated losses, common practice", "", m->core_r * base.ohms, 4},
        {"X_m", "magnetising branch", "", "ohm", "closes the rated point", "", m->magnet_x * base.ohms, 4},
        {"R_21", "working cage", "", "ohm", "fitted", "", m->inner_r * base.ohms, 4},
        {"X_21", "working cage leakage", "", "ohm", "fitted", "", m->inner_x * base.ohms, 4},
        {"R_22", "starting cage", "", "ohm", "fitted", "", m->outer_r * base.ohms, 4},
        {"X_22", "starting cage leakage", "", "ohm", "fitted", "", m->outer_x * base.ohms, 4},
        {"h", "share of leakage that saturates", "", "", "fitted, at most 0.5", "", m->leakage_share, 3},
        {"s_bd", "slip at breakdown, rated volts", "", "", "from the circuit", "", m->slip_breakdown, 3},
        {"", "locked amps off target before trim", "", "%", "", "", sag_number_round(100 * m->miss_amps, 2), 3},
        {"", "locked torque off target before trim", "", "%", "", "", sag_number_round(100 * m->miss_locked_torque, 2),
         3},
        {"", "breakdown torque off target", "", "%", "", suspect ? suspect : "",
         sag_number_round(100 * m->miss_breakdown, 2), 3},
    };
    for (size_t i = 0; i < sizeof lines / sizeof *lines && m->way != SAG_FIT_NONE; i++)
        add_band_line(s, section, &none, &lines[i]);
    if (m->way == SAG_FIT_NONE)
        add_line(s->lines, &none,
                 (struct sag_line){.section = section,
                                   .words = "no circuit: single-phase, or too little is known",
                                   .value = sag_unknown()});
}

/* --- effects ---------------------------------------------------------------------------------------------------- */

/* The rule of thumb beside each effect, in powers of flux share: amps of a constant load 1/V, torque V squared. */
static const char *rule_of_thumb(const struct sheet *s, enum sag_effect_kind kind, const struct sag_terminals *t)
{
    static const struct {
        enum sag_effect_kind kind;
        double power;
        const char *words;
    } rules[] = {{SAG_EFFECT_RUNNING_AMPS, -1, "1/V at constant load"},
                 {SAG_EFFECT_SLIP, -2, "1/V squared"},
                 {SAG_EFFECT_STARTING_AMPS, 1, "V"},
                 {SAG_EFFECT_STARTING_TORQUE, 2, "V squared"},
                 {SAG_EFFECT_BREAKDOWN_TORQUE, 2, "V squared"}};
    char number[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (rules[i].kind == kind && !t->by_flux)
            return sheet_text(s->lines, "rule of thumb %s: %s %%", rules[i].words,
                              sag_number_print(number, 100 * (pow(t->volts_share, rules[i].power) - 1), 1));
    return "";
}

static void add_effects(const struct sheet *s, enum sag_case which)
{
    const struct sag_motor_case *c = &s->result->of[which];
    const char *section =
        sheet_text(s->lines, "Effects, %s case, by the circuit at V_t, against the same load at rated volts: %s",
                   sag_case_word(which), sag_verdict_word(c->verdict));
    for (int k = 0; k < SAG_EFFECT_COUNT; k++) {
        const struct sag_effect_words *words = sag_effect_words((enum sag_effect_kind)k);
        struct sag_effect effect = c->effects.of[k];
        if (!sag_known(&effect.at_case))
            continue;
        in_units(s, &effect.at_rated, words->unit);
        const char *unit = in_units(s, &effect.at_case, words->unit);
        const struct symbol extra[] = {{"x", effect.at_case.value, 8}, {"x_r", effect.at_rated.value, 8}};
        struct symbols symbols = {NULL, extra, 2};
        const char *difference = k == SAG_EFFECT_POWER_FACTOR ? "100 * (x - x_r)" : "x - x_r";
        bool share = strcmp(words->change_unit, "%") == 0;
        add_line(s->lines, &symbols,
                 (struct sag_line){.section = section,
                                   .symbol = words->symbol,
                                   .words = words->words,
                                   .formula = "",
                                   .value = effect.at_case,
                                   .unit = unit,
                                   .source = "",
                                   .figures = 4});
        add_line(s->lines, &symbols,
                 (struct sag_line){.section = section,
                                   .words = "change",
                                   .formula = share ? "100 * (x / x_r - 1)" : difference,
                                   .value = effect.change,
                                   .unit = words->change_unit,
                                   .source = "",
                                   .note = rule_of_thumb(s, (enum sag_effect_kind)k, &c->terminals),
                                   .figures = 3});
    }
    if (sag_known(&c->effects.negative_amps))
        add_line(s->lines, &(struct symbols){0},
                 (struct sag_line){.section = section,
                                   .symbol = "I_2",
                                   .words = "negative-sequence amps, at slip 2 - s",
                                   .formula = "",
                                   .value = c->effects.negative_amps,
                                   .unit = "A",
                                   .source = "symmetrical components",
                                   .figures = 4});
    if (c->effects.stalls)
        add_line(s->lines, &(struct symbols){0},
                 (struct sag_line){.section = section,
                                   .words = "the load is more than the motor can carry at these volts",
                                   .value = sag_unknown()});
}

/* --- what it hangs on, findings --------------------------------------------------------------------------------- */

static void add_sensitivity(const struct sheet *s, enum sag_case which)
{
    struct sag_sensitivities all;
    const struct sag_sensitivity *found = all.of;
    if (sag_find_sensitivity(s->plant, s->result, which, &all) != SAG_OK)
        s->lines->failed = true;
    const char *section = sheet_text(s->lines, "What running amps hang on (%s case): each assumed fact at both bounds",
                                     sag_case_word(which));
    for (size_t i = 0; i < all.count; i++) {
        const struct sag_fact_words *words = sag_fact_words(found[i].fact);
        char low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM];
        double value = s->result->of[which].effects.of[SAG_EFFECT_RUNNING_AMPS].at_case.value;
        double least = fmin(value, fmin(found[i].amps_low, found[i].amps_high));
        double most = fmax(value, fmax(found[i].amps_low, found[i].amps_high));
        struct sag_qty amps = sag_between(value, least, most, SAG_ASSUMED);
        sag_number_figures(low, found[i].low, 4);
        sag_number_figures(high, found[i].high, 4);
        const char *column = sag_motor_column_of(found[i].fact);
        if (!(amps.high > amps.low))
            continue;
        add_line(s->lines, &(struct symbols){0},
                 (struct sag_line){.section = section,
                                   .symbol = words->symbol,
                                   .words = sheet_text(s->lines, "%s from %s to %s", words->words, low, high),
                                   .formula = "",
                                   .value = amps,
                                   .unit = "A",
                                   .source = "",
                                   .note = column ? sheet_text(s->lines, "given by column %s", column) : "",
                                   .figures = 4});
    }
}

/* The path once, then what it loses in the two cases in which all motors run. */
static void add_path(const struct sheet *s)
{
    const struct sag_plate *plate = s->result->motor.plate;
    int32_t node = s->plant->list->feeders[plate->feeder].node;
    static const enum sag_case cases[] = {SAG_CASE_NOMINAL, SAG_CASE_LOW};
    if (!s->job->reports)
        return;
    add_path_ohms(s->lines, s->job, node);
    add_branch_ohms(s->lines, s->job, plate);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        if (s->result->of[cases[i]].present) {
            add_path_drops(s->lines, s->job, node, cases[i]);
            add_branch_drop(s->lines, s->job, plate, cases[i]);
        }
}

enum sag_status sag_explain_motor(const struct sag_sheet_job *job, const struct sag_result *result,
                                  struct sag_lines *lines)
{
    struct sheet s = {job, job->plant, job->supply, result, &job->units, lines};
    int last = SAG_CASE_COUNT;
    *lines = (struct sag_lines){.arena = sag_arena_new()};
    if (!lines->arena)
        return SAG_NO_MEMORY;
    add_facts(&s);
    if (*result->motor.plate->note)
        add_line(lines, &(struct symbols){0},
                 (struct sag_line){
                     .section = "Note in the list", .words = result->motor.plate->note, .value = sag_unknown()});
    add_path(&s);
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        if (result->of[i].present)
            add_band(&s, (enum sag_case)i);
    add_circuit(&s);
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        if (result->of[i].present) {
            add_effects(&s, (enum sag_case)i);
            last = i;
        }
    if (last < SAG_CASE_COUNT)
        add_sensitivity(&s, (enum sag_case)last);
    add_start(lines, job);
    add_branch(lines, job);
    add_findings(lines, result->findings, result->finding_count);
    if (job->start)
        add_findings(lines, job->start->findings, job->start->finding_count);
    if (job->branch)
        add_findings(lines, job->branch->findings, job->branch->finding_count);
    return lines->failed ? SAG_NO_MEMORY : SAG_OK;
}

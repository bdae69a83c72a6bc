/* The sizes of one motor's branch circuit. */
#include <math.h>
#include <string.h>

#include "protect/parts.h"

struct sizing {
    const struct sag_size_job *job;
    const struct sag_motor *motor;
    struct sag_motor_size *out;
};

static void rest_on(struct sizing *s, enum sag_clause clause)
{
    s->out->clauses |= CLAUSE_BIT(clause);
}

static uint8_t choice_of(const struct sizing *s, enum sag_choice choice)
{
    return s->motor->plate->choice[choice];
}

static bool is_fire_pump(const struct sizing *s)
{
    return choice_of(s, SAG_DUTY) == SAG_DUTY_FIRE_PUMP;
}

static struct sag_qty first_known(const struct sag_qty *a, const struct sag_qty *b, const struct sag_qty *c)
{
    return sag_known(a) ? *a : sag_known(b) ? *b : *c;
}

static bool is_slow(const struct sizing *s)
{
    const struct sag_qty *fact = s->motor->fact;
    return fact[SAG_SYNC_RPM].value < LOW_SPEED && fact[SAG_RATED_AMPS].origin == SAG_NAMEPLATE;
}

/* Which amps everything else goes by. */
static void put_amps(struct sizing *s)
{
    const struct sag_qty *fact = s->motor->fact;
    struct sag_motor_size *out = s->out;
    out->plate_amps = first_known(&fact[SAG_RATED_AMPS], &fact[SAG_COMPUTED_AMPS], &fact[SAG_TABLE_AMPS]);
    out->code_amps = fact[SAG_TABLE_AMPS];
    if (s->motor->iec || fact[SAG_RATED_VOLTS].value > HIGH_VOLTS) {
        out->sizing = s->motor->iec ? SAG_SIZED_LOCAL : SAG_SIZED_HIGH_VOLTS;
        out->code_amps = out->plate_amps;
        rest_on(s, s->motor->iec ? SAG_CLAUSE_LOCAL_CODE : SAG_CLAUSE_HIGH_VOLTS);
    } else if (!sag_known(&out->code_amps) || is_slow(s)) {
        out->code_amps = by_clause(SAG_CLAUSE_PLATE_AMPS, out->plate_amps, 1);
        rest_on(s, SAG_CLAUSE_PLATE_AMPS);
    } else {
        rest_on(s, SAG_CLAUSE_CODE_AMPS);
    }
    if (!sag_known(&out->code_amps))
        out->sizing = SAG_SIZED_NOT;
}

/* Of pumps of a fire pump's room: the largest that the plate leaves open; a silent plate has the code's table. */
static void put_locked_amps(struct sizing *s)
{
    const struct sag_qty *fact = s->motor->fact;
    const struct sag_plate *plate = s->motor->plate;
    s->out->locked_amps = sag_unknown();
    if (!is_fire_pump(s) && choice_of(s, SAG_DUTY) != SAG_DUTY_JOCKEY_PUMP)
        return;
    struct sag_qty locked = fact[SAG_LOCKED_AMPS];
    struct sag_answer table =
        sag_ask_code_locked_amps(s->job->tables, fact[SAG_PHASES].value == 3 ? 3 : 1, fact[SAG_RATED_VOLTS].value,
                                 fact[SAG_RATED_POWER].value / SAG_WATTS_PER_HP);
    bool told = locked.origin == SAG_NAMEPLATE || plate->code_letter;
    if (!told && !isnan(table.value))
        locked = sag_exact(table.value, SAG_TABLE);
    else
        locked.value = locked.low = locked.high;
    s->out->locked_amps = by_clause(SAG_CLAUSE_FIRE_DEVICE, locked, 1);
}

static struct sag_wiring wiring_of(const struct sizing *s)
{
    uint8_t design = choice_of(s, SAG_DESIGN);
    return (struct sag_wiring){.material = (enum sag_material)choice_of(s, SAG_MATERIAL),
                               .ambient_c = s->motor->plate->given[SAG_BRANCH_AMBIENT],
                               .conductors = s->motor->plate->given[SAG_BRANCH_CONDUCTORS],
                               .insulation_c = s->job->insulation_c,
                               .terminal_c = s->job->terminal_c,
                               .design_bcd =
                                   design == SAG_DESIGN_B || design == SAG_DESIGN_C || design == SAG_DESIGN_D};
}

static void put_leads(struct sizing *s)
{
    uint8_t starting = choice_of(s, SAG_STARTING);
    bool wye_delta = starting == SAG_STARTING_WYE_DELTA, part = starting == SAG_STARTING_PART_WINDING;
    s->out->leads_min = sag_unknown();
    if (!wye_delta && !part)
        return;
    enum sag_clause clause = wye_delta ? SAG_CLAUSE_WYE_DELTA : SAG_CLAUSE_PART_WINDING;
    s->out->leads_min = by_clause(clause, s->out->code_amps, wye_delta ? WYE_DELTA_SHARE : PART_WINDING_SHARE);
    rest_on(s, clause);
}

static void put_wire(struct sizing *s)
{
    struct sag_motor_size *out = s->out;
    struct sag_wiring wiring = wiring_of(s);
    enum sag_clause clause = is_fire_pump(s) ? SAG_CLAUSE_FIRE_CONDUCTOR : SAG_CLAUSE_CONDUCTOR;
    out->conductor_min = by_clause(clause, out->code_amps, CONTINUOUS_SHARE);
    rest_on(s, clause);
    put_leads(s);
    out->wire = sag_choose_wire(s->job->tables, &wiring, out->conductor_min.value);
    out->installed = sag_rate_wire(s->job->tables, &wiring, s->motor->plate->conductor, out->conductor_min.value);
}

static void put_overload(struct sizing *s)
{
    const struct sag_qty *fact = s->motor->fact;
    struct sag_motor_size *out = s->out;
    if (is_fire_pump(s)) {
        rest_on(s, SAG_CLAUSE_FIRE_NO_OVERLOAD);
        return;
    }
    double rise = fact[SAG_RISE].origin == SAG_NAMEPLATE ? fact[SAG_RISE].value : NAN;
    struct sag_answer share = sag_ask_overload(s->job->tables, fact[SAG_SERVICE_FACTOR].value, rise);
    out->overload_share = share.value;
    out->overload_most_share = share.high;
    out->overload = by_clause(SAG_CLAUSE_OVERLOAD, out->plate_amps, share.value);
    out->overload_most = by_clause(SAG_CLAUSE_OVERLOAD_MOST, out->plate_amps, share.high);
    rest_on(s, SAG_CLAUSE_OVERLOAD);
    rest_on(s, SAG_CLAUSE_OVERLOAD_MOST);
}

/* Energy efficient: at least the federal level in force from 1997, by what the plate says. */
static bool is_efficient(const struct sizing *s)
{
    const double hair = 5e-4, first_year = 1998;
    const struct sag_qty *fact = s->motor->fact;
    const struct sag_efficiency_query query = {.hp = fact[SAG_RATED_POWER].value / SAG_WATTS_PER_HP,
                                               .year = first_year,
                                               .poles = (int)fact[SAG_POLES].value,
                                               .open = choice_of(s, SAG_ENCLOSURE) == SAG_ENCLOSURE_OPEN};
    struct sag_answer level = sag_ask_efficiency(s->job->tables, &query);
    return fact[SAG_EFFICIENCY].origin == SAG_NAMEPLATE && !level.beyond &&
           fact[SAG_EFFICIENCY].value >= level.value - hair;
}

/* The row of table 430.52(C)(1). */
static const char *motor_type(const struct sizing *s)
{
    if (s->motor->fact[SAG_PHASES].value != 3)
        return "single_phase_ac";
    if (choice_of(s, SAG_ROTOR) == SAG_ROTOR_WOUND)
        return "wound_rotor";
    bool design_b = choice_of(s, SAG_DESIGN) == SAG_DESIGN_B;
    return design_b && is_efficient(s) ? "design_b_energy_or_premium_efficient"
                                       : "squirrel_cage_not_design_b_efficient";
}

/* Largest standard size that an exception allows; never less than the table's own with its step up. */
static void put_most(struct sizing *s, enum sag_device kind, const struct sag_device_share *share,
                     struct sag_device_size *d)
{
    const double large_fuse = 600; /* A; 430.52(C)(1) Ex. 2 tells fuses above it apart */
    const struct sag_tables *tables = s->job->tables;
    bool large = is_fuse(kind) && d->amps.value > large_fuse;
    d->most_share = large ? share->most_over_600 : share->most;
    d->most_computed = by_clause(SAG_CLAUSE_DEVICE_MOST, s->out->code_amps, d->most_share);
    double most = sag_ask_rating_down(tables, d->most_computed.value, is_fuse(kind));
    if (kind == SAG_DEVICE_NONTIME_FUSE && !large)
        most = fmin(most, large_fuse); /* 400 % is for fuses up to there */
    bool none = isnan(d->amps.value);  /* past the largest rating there is no device at all */
    d->most = clause_amps(SAG_CLAUSE_DEVICE_MOST, none ? NAN : fmax(most, d->amps.value));
}

static void put_device(struct sizing *s, enum sag_device kind)
{
    const struct sag_tables *tables = s->job->tables;
    struct sag_device_size *d = &s->out->device[kind];
    const struct sag_device_share share = sag_ask_device_share(tables, motor_type(s), kind, s->out->code_amps.value);
    bool setting = kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    enum sag_clause clause = setting ? SAG_CLAUSE_SETTING : SAG_CLAUSE_DEVICE;
    d->share = share.base;
    d->computed = by_clause(clause, s->out->code_amps, share.base);
    if (setting) {
        d->amps = d->computed;
        d->most_share = share.most;
        d->most_computed = d->most = by_clause(clause, s->out->code_amps, share.most);
        return;
    }
    d->amps = clause_amps(clause, sag_ask_rating_up(tables, d->computed.value, is_fuse(kind)));
    put_most(s, kind, &share, d);
}

/* A fire pump's device carries locked-rotor amps for ever; one that has nothing but an instantaneous part is not meant.
 */
static void put_fire_device(struct sizing *s, enum sag_device kind)
{
    struct sag_device_size *d = &s->out->device[kind];
    *d = (struct sag_device_size){.share = NAN, .most_share = NAN, .computed = sag_unknown(), .amps = sag_unknown()};
    d->most_computed = d->most = sag_unknown();
    if (kind == SAG_DEVICE_INSTANTANEOUS_BREAKER)
        return;
    d->computed = s->out->locked_amps;
    d->amps = clause_amps(SAG_CLAUSE_FIRE_DEVICE,
                          sag_ask_rating_up(s->job->tables, s->out->locked_amps.value, is_fuse(kind)));
}

/* A feeder looks at 430.52 even where a motor's own device goes by another rule, or by the local code. */
static void put_feeder_branches(struct sizing *s)
{
    for (int kind = SAG_DEVICE_BLANK + 1; kind < SAG_DEVICE_KINDS; kind++) {
        const struct sag_device_share share =
            sag_ask_device_share(s->job->tables, motor_type(s), (enum sag_device)kind, s->out->code_amps.value);
        s->out->feeder_branch[kind] =
            sag_ask_rating_up(s->job->tables, share.base * s->out->code_amps.value, is_fuse((enum sag_device)kind));
    }
}

static void put_devices(struct sizing *s)
{
    struct sag_motor_size *out = s->out;
    for (int kind = SAG_DEVICE_DUAL_ELEMENT_FUSE; kind < SAG_DEVICE_KINDS; kind++)
        if (out->locked_for_ever)
            put_fire_device(s, (enum sag_device)kind);
        else
            put_device(s, (enum sag_device)kind);
    if (is_fire_pump(s))
        rest_on(s, out->locked_for_ever ? SAG_CLAUSE_FIRE_DEVICE : SAG_CLAUSE_FIRE_ON_SET);
    else if (out->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER)
        rest_on(s, SAG_CLAUSE_SETTING);
    else {
        rest_on(s, SAG_CLAUSE_DEVICE);
        rest_on(s, SAG_CLAUSE_DEVICE_MOST);
    }
}

static void put_ground(struct sizing *s)
{
    bool setting = s->out->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    enum sag_device kind = setting ? SAG_DEVICE_DUAL_ELEMENT_FUSE : (enum sag_device)s->out->kind;
    s->out->ground = ground_for(s->job->tables, s->out->device[kind].amps.value, &s->out->wire);
    rest_on(s, setting ? SAG_CLAUSE_GROUND_OF_SETTING : SAG_CLAUSE_GROUND);
}

/* Hermetic compressors have no shaft to rate: their plates show amps, and neither efficiency nor design letter. */
static bool may_be_hermetic(const struct sizing *s)
{
    return choice_of(s, SAG_LOAD) == SAG_LOAD_COMPRESSOR && choice_of(s, SAG_DESIGN) == SAG_DESIGN_BLANK &&
           s->motor->fact[SAG_EFFICIENCY].origin != SAG_NAMEPLATE;
}

static void forget_sizes(struct sag_motor_size *out)
{
    const struct sag_qty none = sag_unknown();
    out->conductor_min = out->leads_min = out->overload = out->overload_most = out->disconnect = none;
    out->overload_share = out->overload_most_share = NAN;
    for (int kind = 0; kind < SAG_DEVICE_KINDS; kind++)
        out->device[kind] = (struct sag_device_size){NAN, NAN, none, none, none, none};
    out->wire.amps = out->installed.amps = NAN;
}

void sag_size_motor(const struct sag_size_job *job, const struct sag_motor *motor, bool on_set,
                    struct sag_motor_size *out)
{
    struct sizing s = {job, motor, out};
    memset(out, 0, sizeof *out);
    out->index = (size_t)(motor->plate - job->list->plates);
    out->locked_for_ever = is_fire_pump(&s) && !on_set;
    out->kind = choice_of(&s, SAG_DEVICE);
    if (out->kind == SAG_DEVICE_BLANK)
        out->kind = (uint8_t)(job->device == SAG_DEVICE_BLANK ? SAG_DEVICE_INVERSE_TIME_BREAKER : job->device);
    forget_sizes(out);
    put_amps(&s);
    put_locked_amps(&s);
    if (out->sizing == SAG_SIZED || out->sizing == SAG_SIZED_LOCAL)
        put_feeder_branches(&s);
    if (out->sizing != SAG_SIZED)
        return;
    put_wire(&s);
    put_overload(&s);
    put_devices(&s);
    put_ground(&s);
    out->disconnect = by_clause(SAG_CLAUSE_DISCONNECT, out->code_amps, DISCONNECT_SHARE);
    rest_on(&s, SAG_CLAUSE_DISCONNECT);
    if (choice_of(&s, SAG_STARTING) == SAG_STARTING_DRIVE)
        rest_on(&s, SAG_CLAUSE_DRIVE);
    if (choice_of(&s, SAG_ROTOR) == SAG_ROTOR_WOUND)
        rest_on(&s, SAG_CLAUSE_WOUND_ROTOR);
    if (may_be_hermetic(&s))
        rest_on(&s, SAG_CLAUSE_HERMETIC);
}

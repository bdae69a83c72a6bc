/* The list of checks. To add one: a measure function in the judge_ file of its subject, a row here, a test row. */
#include <math.h>
#include <string.h>

#include "judge/parts.h"

static const struct sag_check checks[] = {
    /* of a motor in a supply case */
    {"band_high", "% of plate volts", "terminal volts against the upper edge of the band", measure_band_high, true},
    {"band_low", "% of plate volts", "terminal volts against the lower edge of the band", measure_band_low, true},
    {"lowest_pair", "% of plate volts", "lowest of the three line voltages", measure_lowest_pair, false},
    {"flux", "% of rated flux", "volts to hertz against the plate's", measure_flux, false},
    {"frequency", "% off the plate", "supply frequency against the plate's", measure_frequency, false},
    {"unbalance", "%", "unbalance of the three line voltages", measure_unbalance, false},
    {"derated_load", "% of what unbalance leaves", "load against rated power derated for unbalance",
     measure_derated_load, false},
    {"running_amps", "% of rated amps", "amps under load against the overload setting", measure_running_amps, false},
    {"rise", "K", "estimated winding rise against the insulation class", measure_rise, false},
    {"load_power", "% of rated power", "load at the speed of another frequency against rated power", measure_load_power,
     false},
    {"pull_out", "% of breakdown torque", "load torque against breakdown torque at these volts", measure_pull_out,
     false},
    /* of a plate alone */
    {"plate_amps", "% off", "nameplate amps against horsepower, efficiency and power factor", measure_plate_amps,
     false},
    {"plate_speed", "rev/min", "nameplate speed against synchronous speed", measure_plate_speed, false},
    {"plate_slip", "%", "slip of the nameplate speed against what a motor can have", measure_plate_slip, false},
    {"plate_efficiency", "%", "nameplate efficiency against what a motor can have", measure_plate_efficiency, false},
    {"plate_losses", "%", "efficiency times power factor against what a motor can have", measure_plate_losses, false},
    {"plate_code_letter", "kVA/hp off", "code letter against locked-rotor amps", measure_plate_code_letter, false},
    {"circuit", "% off", "how far the fitted circuit misses the plate's torques and amps", measure_circuit, false},
};

/* Of a motor's start in a supply case. */
static const struct sag_check start_checks[] = {
    {"start_computed", "of 1", "whether its start can be computed: not for single-phase, wound rotors, too bare plates",
     measure_start_computed, false},
    {"start_collapse", "collapse", "the network does not settle while it starts", measure_start_collapse, false},
    {"fire_pump_start", "% of board volts", "volts at the fire pump controller while it starts", measure_fire_start,
     false},
    {"fire_pump_run", "% of plate volts", "volts at the fire pump motor at 115 % of full-load amps", measure_fire_run,
     false},
    {"start_speed", "% of full speed", "speed that it ends at", measure_start_speed, false},
    {"start_torque", "% of rated torque",
     "least torque over the load's, below breakdown speed; below 0 it stands, or hangs until its starter changes over",
     measure_start_torque, false},
    {"start_volts", "% of plate volts", "lowest volts at the line side of its starter", measure_start_volts, false},
    {"start_others", "% of its plate volts", "lowest volts at another running motor", measure_start_others, false},
    {"start_dragged", "motors", "running motors that its start drags into stall", measure_start_dragged, false},
    {"start_coils", "% of board volts", "lowest volts at any board, which hold contactors in", measure_start_coils,
     false},
    {"start_flicker", "% dip", "dip at a board with other load or at the service, for its starts an hour",
     measure_start_flicker, false},
    {"start_heat", "% of locked-rotor time", "locked-rotor time used up by the start", measure_start_heat, false},
    {"start_inertia", "% of the standard's", "load inertia against what such a motor must bring up",
     measure_start_inertia, false},
    {"start_transfer", "% of locked-rotor amps", "transient amps when the starter changes over", measure_start_transfer,
     false},
};

/* Of a board of the supply. */
static const struct sag_check board_checks[] = {
    {"capacity", "% of capacity", "amps of a transformer or generator against its own", measure_capacity, false},
    {"capacity_fire", "% of capacity", "amps with the fire pumps running as well, against its own",
     measure_capacity_fire, false},
    {"fault_rating", "% of rating", "bolted three-phase fault, motors' share in it, against the board's rating",
     measure_fault_rating, false},
    {"measured_gap", "% apart",
     "measured volts against those computed: the source, a tap or the loads are not as given", measure_measured_gap,
     false},
};

/* Of a motor's branch circuit; those of let-start last, in the order of their parts. ORDER PASSAGE */
static const struct sag_check branch_checks[] = {
    {"wire_amps", "A", "what the installed wire may carry against 125 % of code amps", measure_wire_amps, false},
    {"device_most", "A", "installed device against the largest that the code allows", measure_device_most, false},
    {"device_carry", "A", "installed device against what it must carry", measure_device_carry, false},
    {"overload_most", "A", "overload setting against the largest that the code allows", measure_overload_most, false},
    {"overload_carry", "A", "overload setting against the amps it runs with", measure_overload_carry, false},
    {"overload_fire", "A", "an overload device, which a fire pump must not have", measure_overload_fire, false},
    {"relay_guards", "s", "relay with a locked rotor, hot, against the time that the motor stands it",
     measure_relay_guards, false},
    {"relay_passes", "% of the way to tripping", "how far its start goes towards tripping its overload relay",
     measure_relay_passes, false},
    {"device_passes", "% of the way to opening", "how far its start goes towards opening its device",
     measure_device_passes, false},
    {"peak_passes", "% of the setting", "first half cycle with its offset against the instantaneous trip",
     measure_peak_passes, false},
};

/* Of a feeder or the service. */
static const struct sag_check feeder_checks[] = {
    {"feeder_wire", "A", "what the installed wires may carry against the amps that the code counts",
     measure_feeder_wire, false},
    {"feeder_device_most", "A", "installed device against the largest that the code allows", measure_feeder_device_most,
     false},
    {"feeder_device_carry", "A", "installed device against what it must carry", measure_feeder_device_carry, false},
    {"secondary_wire", "A", "what wires behind a transformer may carry against their device", measure_secondary_wire,
     false},
    {"set_amps", "A", "all motors at code amps and other load against the generator's rated amps", measure_set_amps,
     false},
};

/* Of a transformer inside the path. */
static const struct sag_check transformer_checks[] = {
    {"primary_device", "A", "installed primary device against the largest that the code allows", measure_primary_device,
     false},
    {"primary_locked", "A", "installed primary device against locked-rotor amps of the pump room behind it",
     measure_primary_locked, false},
    {"secondary_device", "A", "installed devices behind it against the largest that the code allows",
     measure_secondary_device, false},
    {"secondary_missing", "devices", "a device for the wires behind it, of which the file gives none",
     measure_secondary_missing, false},
    {"fire_transformer", "kVA", "transformer of a pump room against 125 % of its load", measure_fire_transformer,
     false},
};

/* Of a log of measured volts: src/survey measures, in one place for all of them. ORDER SURVEY_CHECK */
static const struct sag_check survey_checks[] = {
    {"band_time", "% of the time", "time outside the band of the plate, in spells of over a minute", NULL, true},
    {"band_moments", "% of the time", "time outside the band, in spells of a minute or less", NULL, true},
    {"unbalance_time", "%", "unbalance that is not exceeded for 99 % of the time", NULL, false},
    {"dips", "% of reference", "dips below 90 % of the reference; volts of the deepest", NULL, false},
    {"swells", "% of reference", "swells above 110 % of the reference; volts of the highest", NULL, false},
    {"interruptions", "% of reference", "all three volts gone; volts of the deepest", NULL, false},
    {"recorded", "% of the log", "share of the log that was recorded", NULL, false},
};

enum {
    RUNNING_COUNT = sizeof checks / sizeof *checks,
    START_COUNT = sizeof start_checks / sizeof *start_checks,
    BOARD_COUNT = sizeof board_checks / sizeof *board_checks,
    BRANCH_COUNT = sizeof branch_checks / sizeof *branch_checks,
    FEEDER_COUNT = sizeof feeder_checks / sizeof *feeder_checks,
    TRANSFORMER_COUNT = sizeof transformer_checks / sizeof *transformer_checks,
    SURVEY_COUNT = sizeof survey_checks / sizeof *survey_checks
};

static const struct {
    const struct sag_check *items;
    size_t count;
} lists[] = {{checks, RUNNING_COUNT},       {start_checks, START_COUNT},   {board_checks, BOARD_COUNT},
             {branch_checks, BRANCH_COUNT}, {feeder_checks, FEEDER_COUNT}, {transformer_checks, TRANSFORMER_COUNT},
             {survey_checks, SURVEY_COUNT}};
_Static_assert(sizeof lists / sizeof *lists == CHECK_LISTS, "ORDER CHECK_LIST");

_Static_assert((int)SURVEY_COUNT == (int)SURVEY_CHECKS, "ORDER SURVEY_CHECK");

/* A check is about the plate or about the cases, so none speaks more often than there are cases. */
_Static_assert(RUNNING_COUNT *SAG_CASE_COUNT <= SAG_MOST_FINDINGS, "room for every finding");
_Static_assert(START_COUNT *SAG_CASE_COUNT <= SAG_MOST_START_FINDINGS, "room for every finding");
_Static_assert(BOARD_COUNT *SAG_CASE_COUNT <= SAG_MOST_BOARD_FINDINGS, "room for every finding");
/* With the plate's amps, and the two of a fire pump in every case. */
_Static_assert(BRANCH_COUNT + 1 + 2 * SAG_CASE_COUNT <= SAG_MOST_BRANCH_FINDINGS, "room for every finding");
/* With the fault against the board's rating. */
_Static_assert(FEEDER_COUNT + 1 <= SAG_MOST_CIRCUIT_FINDINGS, "room for every finding");
_Static_assert(TRANSFORMER_COUNT + 0 <= SAG_MOST_CIRCUIT_FINDINGS, "room for every finding");

size_t checks_begin(enum check_list list)
{
    size_t at = 0;
    for (int i = 0; i < (int)list; i++)
        at += lists[i].count;
    return at;
}

size_t check_place(bool (*measure)(const struct sag_subject *subject, struct sag_measure *out))
{
    size_t at = 0;
    while (sag_check_at(at) && sag_check_at(at)->measure != measure)
        at++;
    return at;
}

size_t sag_check_count(void)
{
    return checks_begin(CHECK_LISTS);
}

size_t sag_check_place(const struct sag_check *check)
{
    size_t before = 0;
    for (int i = 0; i < CHECK_LISTS; i++) {
        uintptr_t offset = (uintptr_t)check - (uintptr_t)lists[i].items;
        if (offset < lists[i].count * sizeof *check)
            return before + offset / sizeof *check;
        before += lists[i].count;
    }
    return before;
}

const struct sag_check *sag_check_at(size_t index)
{
    for (int i = 0; i < CHECK_LISTS; i++) {
        if (index < lists[i].count)
            return &lists[i].items[index];
        index -= lists[i].count;
    }
    return NULL;
}

const char *sag_verdict_word(enum sag_verdict verdict)
{
    static const char *const words[] = {
#define WORD(name, word) word,
        SAG_VERDICTS(WORD)
#undef WORD
    };
    _Static_assert(sizeof words / sizeof *words == SAG_VERDICT_COUNT, "ORDER VERDICT");
    return words[verdict];
}

/* Positive when `value` is on the wrong side. A hair is allowed, so that 484 V on a 440 V plate is 110 % and not more.
 */
static bool beyond(enum side side, double value, double limit)
{
    double hair = 1e-9 * fabs(limit);
    return side == AT_MOST ? value > limit + hair : value < limit - hair;
}

enum sag_verdict verdict_of(const struct sag_measure *m)
{
    if (isnan(m->limit)) /* a limit that could not be looked up has passed nothing */
        return SAG_VERDICT_UNKNOWN;
    bool low = beyond(m->side, m->value.low, m->limit), high = beyond(m->side, m->value.high, m->limit);
    if (low && high)
        return m->advisory ? SAG_VERDICT_WATCH : SAG_VERDICT_FAIL;
    if (low || high)
        return m->advisory ? SAG_VERDICT_WATCH : SAG_VERDICT_UNKNOWN;
    return beyond(m->side, m->value.value, m->watch) ? SAG_VERDICT_WATCH : SAG_VERDICT_OK;
}

struct worst run_checks(const struct check_job *job, const struct finding_list *out)
{
    struct worst worst = {SAG_VERDICT_OK, SAG_VERDICT_OK, 0};
    for (size_t i = job->from; i < job->to; i++) {
        const struct sag_check *check = sag_check_at(i);
        struct sag_measure m;
        if (!check->measure(job->subject, &m) || isnan(m.value.value))
            continue;
        enum sag_verdict verdict = verdict_of(&m);
        worst.applied++;
        worst.all = worse(worst.all, verdict);
        if (check->band)
            worst.band = worse(worst.band, verdict);
        if (verdict == SAG_VERDICT_OK || *out->count == out->most)
            continue;
        struct sag_finding *f = &out->items[(*out->count)++];
        *f = job->about;
        f->check = check;
        f->value = m.value;
        f->limit = m.limit;
        f->watch = m.watch;
        f->source = m.source;
        f->missing = verdict == SAG_VERDICT_UNKNOWN ? job->decisive(job->subject, check) : "";
        f->which = (uint8_t)job->subject->which;
        f->verdict = (uint8_t)verdict;
        f->repeats = check->measure == measure_flux &&
                     job->subject->in_case->terminals.flux_share == job->subject->in_case->terminals.volts_share;
    }
    return worst;
}

#define BIT(fact) ((uint64_t)1 << (fact))

uint64_t sag_check_facts(void)
{
    return BIT(SAG_HZ) | BIT(SAG_POLES) | BIT(SAG_SLIP) | BIT(SAG_EFFICIENCY) | BIT(SAG_POWER_FACTOR) |
           BIT(SAG_LOCKED_AMPS) | BIT(SAG_LOCKED_TORQUE) | BIT(SAG_BREAKDOWN_TORQUE) | BIT(SAG_RISE) |
           BIT(SAG_MAIN_FLUX);
}

#define START_FACTS                                                                                                    \
    (BIT(SAG_LOCKED_AMPS) | BIT(SAG_LOCKED_TORQUE) | BIT(SAG_BREAKDOWN_TORQUE) | BIT(SAG_ROTOR_INERTIA) |              \
     BIT(SAG_LOAD_INERTIA))

uint64_t sag_assumed_in_start(const struct sag_motor *motor)
{
    uint64_t assumed = motor->assumed & START_FACTS;
    for (int i = 0; i < SAG_FACT_COUNT; i++) {
        const struct sag_qty *q = &motor->fact[i];
        if (START_FACTS >> i & 1 && sag_known(q) && q->low < q->high)
            assumed |= BIT(i);
    }
    if (motor->fact[SAG_LOAD_INERTIA].value == 0 || motor->plate->choice[SAG_LOAD] == SAG_LOAD_NONE)
        assumed &= ~BIT(SAG_LOAD_INERTIA);
    return assumed | (sag_assumed_inputs(motor) & BIT(SAG_LOAD_SHARE));
}

uint64_t sag_assumed_inputs(const struct sag_motor *motor)
{
    uint64_t assumed = motor->assumed & sag_check_facts();
    if (motor->fact[SAG_PHASES].value == 1) /* without a circuit only the band is judged */
        return assumed & BIT(SAG_HZ);
    if (motor->plate->code_letter)
        assumed &= ~BIT(SAG_LOCKED_AMPS);
    if (motor->fact[SAG_LOAD_SHARE].origin == SAG_ASSUMED && motor->plate->choice[SAG_LOAD] != SAG_LOAD_NONE)
        assumed |= BIT(SAG_LOAD_SHARE);
    if (motor->fact[SAG_SERVICE_FACTOR].origin == SAG_ASSUMED)
        assumed |= BIT(SAG_SERVICE_FACTOR);
    return assumed;
}

/* Sizes that the code asks for: conductors, overloads, short-circuit devices, transformers, the pump room; and whether
   what is chosen or installed lets a motor start. Rules of NFPA 70-2023; numbers come from the built-in tables. */
#ifndef SAGBAND_PROTECT_H
#define SAGBAND_PROTECT_H

#include "sagband/complete.h"
#include "sagband/network.h"
#include "sagband/start.h"

#define SAG_CODE_EDITION "NFPA 70-2023"

/* clang-format off: one row a line */

/* What a number of the schedule rests on: one row gives the rule of a calculation sheet and the foot of the schedule.
   X(ENUM, symbol, formula, clause of the code, words). ORDER CLAUSE */
#define SAG_CLAUSES(X)                                                                                                 \
    X(CODE_AMPS, "I_code", "code table at the motor's hp and volts", "430.6(A)(1)",                                    \
      "amps by Table 430.250 or, single-phase, 430.248; between rows the larger hp")                                   \
    X(PLATE_AMPS, "I_code", "nameplate amps", "430.6(A)(1)",                                                           \
      "slow (synchronous below 1200 rev/min) or not in the tables: nameplate amps")                                    \
    X(CONDUCTOR, "I_w", "1.25 * I_code", "430.22",                                                                     \
      "wire: 125 % of code amps; size by Table 310.16, terminals by 110.14(C)(1)")                                     \
    X(WYE_DELTA, "I_lead", "0.72 * I_code", "430.22(C)",                                                               \
      "wye-delta: each of the six wires to the motor 72 %, a relay in them 58 %")                                      \
    X(PART_WINDING, "I_lead", "0.625 * I_code", "430.22(D)",                                                           \
      "part-winding: wires to each winding 62.5 %, a relay in them 50 % (430.4)")                                      \
    X(GROUND, "", "", "250.122", "equipment ground: by the device, never larger than the wire")                        \
    X(GROUND_OF_SETTING, "", "", "250.122(D)(2)", "ground beside an instantaneous breaker: by the dual-element fuse")  \
    X(OVERLOAD, "I_o", "k_o * I_plate / 100", "430.32(A)(1)",                                                          \
      "overload: 125 % of plate amps (service factor 1.15 or 40 C rise) or 115 %")                                     \
    X(OVERLOAD_MOST, "I_om", "k_om * I_plate / 100", "430.32(C)",                                                      \
      "at most 140 or 130 %, where the first will not start it or carry the load")                                     \
    X(DEVICE, "I_d", "k_d * I_code / 100", "430.52(C)(1)",                                                             \
      "device: the table's percentage, next size up (Table 430.52 up to 2020)")                                        \
    X(DEVICE_MOST, "I_dm", "k_dm * I_code / 100", "430.52(C)(1) Ex. 2",                                                \
      "at most: next size down; only where the first will not let it start")                                           \
    X(SETTING, "I_d", "k_d * I_code / 100", "430.52(C)(3)",                                                            \
      "a setting, in a listed combination controller; at most: where shown needed")                                    \
    X(DISCONNECT, "I_dis", "1.15 * I_code", "430.110(A)", "disconnect: at least 115 % of code amps")                   \
    X(WOUND_ROTOR, "", "", "430.23(A)", "wound rotor: secondary wires 125 % of secondary amps (not in the list)")      \
    X(DRIVE, "", "", "430.122, 430.130", "drive: its marked input amps and device come first; code amps stand in")     \
    X(FIRE_CONDUCTOR, "I_w", "1.25 * I_code", "695.6(B)",                                                              \
      "fire pump wire: 125 % of fire and jockey pumps, 100 % of the rest; 695.7")                                      \
    X(FIRE_NO_OVERLOAD, "", "", "695.6(C)", "fire pump: short-circuit protection only, no overload device")            \
    X(FIRE_DEVICE, "I_lock", "locked-rotor amps of fire and jockey pump, and code amps of the rest", "695.4(B)(2)(a)", \
      "ahead of a fire pump controller: carries locked-rotor amps for ever; size up")                                  \
    X(FIRE_ON_SET, "I_d", "k_d * I_code / 100", "695.4(B)(2)(b)",                                                      \
      "fire pump on a standby set: device no larger than 430.62 gives")                                                \
    X(FEEDER_CONDUCTOR, "I_w", "1.25 * I_largest + I_others + 1.25 * I_load", "430.24",                                \
      "feeder wire: 125 % of largest motor and of other load, all other motors")                                       \
    X(FEEDER_DEVICE, "I_d", "I_branch + I_others + 1.25 * I_load", "430.62(A), 430.63",                                \
      "feeder device: largest branch device, other motors and load; size down")                                        \
    X(FEEDER_FUTURE, "", "", "430.62(B), 240.4(B)",                                                                    \
      "at most: by wires that are larger than 430.24 asks, next size up")                                              \
    X(GENERATOR, "I_w", "1.15 * I_rated", "445.12, 445.13(A)",                                                         \
      "generator: wires 115 % of its rated amps, its own device (from memory)")                                        \
    X(TRANSFORMER, "", "", "450.3(B)", "transformer: 125 %, primary 250 % with a secondary device; small ones more")   \
    X(SECONDARY_WIRES, "", "", "240.4, 240.21(C)",                                                                     \
      "wires at a transformer carry their device; secondary without the size up")                                      \
    X(FIRE_TRANSFORMER, "", "", "695.5",                                                                               \
      "pump room's transformer: 125 % kVA, primary carries locked rotor, no secondary")                                \
    X(FIRE_AHEAD, "", "", "695.3", "pump room on the service: taken as tapped ahead of the main")                      \
    X(HIGH_VOLTS, "", "", "430 Part XI, 450.3(A)", "over 1000 V: not sized here")                                      \
    X(LOCAL_CODE, "", "", "", "IEC or 50 Hz plate: no US sizes; the local code decides")                               \
    X(FEEDER_LOAD, "I_w", "1.25 * I_load", "215.2, 215.3",                                                             \
      "feeder without a motor: 125 % of its load; device the next size up")                                            \
    X(HERMETIC, "", "", "Article 440", "compressor: a hermetic one goes by its own plate, and this line does not hold")

/* clang-format on */

enum sag_clause {
#define SAG_CLAUSE_ENUM(name, ...) SAG_CLAUSE_##name,
    SAG_CLAUSES(SAG_CLAUSE_ENUM) SAG_CLAUSE_COUNT
#undef SAG_CLAUSE_ENUM
};
/* The clause as the code numbers it, and in our words. clause < SAG_CLAUSE_COUNT. */
const char *sag_clause_number(enum sag_clause clause);
const char *sag_clause_words(enum sag_clause clause);
/* The row that a calculation sheet prints. */
const struct sag_rule *sag_clause_rule(enum sag_clause clause);

/* --- conductors -------------------------------------------------------------------------------------------------- */

/* Where conductors lie and what they end in. */
struct sag_wiring {
    enum sag_material material; /* blank: copper */
    double ambient_c;           /* NAN: 30 */
    double conductors;          /* current-carrying, in one raceway; NAN: 3 */
    int insulation_c;           /* 60, 75 or 90; 0: 75 */
    int terminal_c;             /* 60 or 75; 0: by 110.14(C)(1) */
    bool design_bcd;            /* they end at a motor marked design B, C or D */
    int sets;                   /* in parallel, as installed; 0: as few as will do */
};

/* Conductors of one size in one or more sets, one set a raceway. */
struct sag_wire {
    const char *size; /* as in Table 310.16 or as written; NULL: none */
    int sets;
    enum sag_material material;
    double amps;        /* that all sets together may carry there, rounded down a set; NAN: size NULL */
    double column_amps; /* of one at 30 C, of its insulation */
    double ambient_factor, count_factor;
    double terminal_amps; /* of one, in the column of its terminals */
    int insulation_c, terminal_c;
};

/* What conductors of a size may carry. circuit_amps: what terminals go by. size NULL where the table does not know it.
   310.15, 110.14(C). */
struct sag_wire sag_rate_wire(const struct sag_tables *tables, const struct sag_wiring *wiring, const char *size,
                              double circuit_amps);
/* The smallest that carries `amps`: one set up to the largest usual single size, else sets of 1/0 or more in parallel
   (310.10(G)). size NULL: none does. */
struct sag_wire sag_choose_wire(const struct sag_tables *tables, const struct sag_wiring *wiring, double amps);

/* The equipment ground beside an installed wire that is larger than the least that does: enlarged in the ratio of
   circular mils (250.122(B)). NULL: no need, or not known. */
const char *sag_larger_ground(const struct sag_tables *tables, const char *ground, const struct sag_wire *least,
                              const struct sag_wire *installed);

/* --- motors ------------------------------------------------------------------------------------------------------ */

enum {
    SAG_DEVICE_KINDS = SAG_DEVICE_INSTANTANEOUS_BREAKER + 1 /* enum sag_device runs below it, from 1 */
};

/* A short-circuit and ground-fault device of one kind. Shares are of code amps; NAN where none applies. */
struct sag_device_size {
    double share, most_share;
    struct sag_qty computed, amps;      /* amps: the standard size; of an instantaneous breaker the setting */
    struct sag_qty most_computed, most; /* where the first will not let the motor start */
};

enum sag_sizing {
    SAG_SIZED,            /* by the code's tables */
    SAG_SIZED_LOCAL,      /* IEC or 50 Hz plate: amps only */
    SAG_SIZED_HIGH_VOLTS, /* over 1000 V: amps only */
    SAG_SIZED_NOT,        /* no amps are known */
};

struct sag_motor_size {
    size_t index;                               /* of the motor in its list */
    uint8_t sizing;                             /* enum sag_sizing */
    uint8_t kind;                               /* enum sag_device: as installed, else as asked for */
    bool locked_for_ever;                       /* a fire pump not on a set: so its device must carry; 695.4(B)(2)(a) */
    struct sag_qty code_amps;                   /* that sizes go by */
    struct sag_qty plate_amps;                  /* that overloads go by: of the plate, else computed, else code amps */
    struct sag_qty locked_amps;                 /* of a fire or jockey pump; unknown else */
    struct sag_qty conductor_min, leads_min;    /* leads_min: from a wye-delta or part-winding starter to the motor */
    struct sag_wire wire, installed;            /* size NULL: not sized, not given */
    const char *ground;                         /* NULL: none */
    double overload_share, overload_most_share; /* of plate amps */
    struct sag_qty overload, overload_most;
    struct sag_device_size device[SAG_DEVICE_KINDS];
    /* rating that counts as its branch device in a feeder of each kind: 430.52's, whatever its own rule gives */
    double feeder_branch[SAG_DEVICE_KINDS];
    struct sag_qty disconnect;
    uint64_t clauses; /* a bit a clause that a number rests on */
};

/* --- feeders, transformers --------------------------------------------------------------------------------------- */

/* A piece of path with all that hangs below it; amps are at its own volts. */
struct sag_feeder_size {
    const char *id;
    int32_t node;                 /* -1: volts were typed, there is no path */
    uint32_t feeder;              /* index in the list's feeders; UINT32_MAX when no motor hangs directly on it */
    bool sized;                   /* at least a motor or other load is below, and not over 1000 V */
    bool service;                 /* the first board at these volts, not a cable */
    bool fire;                    /* feeds a fire pump */
    bool by_fire;                 /* whose rule asks for the larger wires */
    bool wires_for_device;        /* its device needs wires of as many amps, so that it carries all */
    bool on_set;                  /* a generator feeds it */
    bool locked_for_ever;         /* feeds a fire pump and is not on a set: as of a motor */
    uint8_t kind;                 /* enum sag_device: as installed, else as asked for */
    size_t motors;                /* below it, those left out not counted */
    size_t ahead;                 /* fire and jockey pumps below, left out as tapped ahead of its main */
    size_t largest, device_motor; /* motors with the most code amps, with the largest branch device; SIZE_MAX: none */
    double largest_amps, others_amps, load_amps;   /* of 430.24 */
    double branch_device, device_others_amps;      /* of 430.62 */
    double fire_locked, jockey_locked;             /* of the fire pump that locks with most, of all jockey pumps */
    double locked_amps, fire_amps, accessory_amps; /* of 695: locked rotor; code amps of fire and jockey pumps, of the
                                                      rest */
    struct sag_qty conductor_min;
    struct sag_wire wire, installed;
    const char *ground;
    double device_installed; /* amps; NAN: none given. A transformer's stands on its primary, so not here */
    struct sag_qty device_computed, device, device_most;
    struct sag_qty carry_min;  /* what its device must carry: all amps below it */
    bool behind_transformer;   /* a cable that a transformer feeds */
    double code_sum, set_amps; /* of a generator: all below it at code amps, its rated amps; NAN else */
    uint64_t clauses;
};

enum sag_winding {
    SAG_PRIMARY,
    SAG_SECONDARY,
    SAG_WINDINGS
};
struct sag_transformer_size {
    bool present, sized; /* sized: both windings 1000 V or less */
    bool fire;           /* feeds fire and jockey pumps only */
    bool has_secondary;  /* rows below it give devices */
    double volts[SAG_WINDINGS], rated_va;
    double fire_va; /* least kVA * 1000 of a fire pump's own; NAN */
    struct sag_qty rated_amps[SAG_WINDINGS];
    double share[SAG_WINDINGS], most_share[SAG_WINDINGS];
    struct sag_qty computed[SAG_WINDINGS], device[SAG_WINDINGS]; /* primary: as if it stood alone */
    struct sag_qty most[SAG_WINDINGS];                           /* primary: with a secondary device; else unknown */
    struct sag_qty conductor_min[SAG_WINDINGS];
    struct sag_wire wire[SAG_WINDINGS];
    double installed[SAG_WINDINGS]; /* amps of devices, secondary: all of the rows below together; NAN */
    uint8_t kind[SAG_WINDINGS];
    uint64_t clauses;
};

struct sag_size_job {
    const struct sag_tables *tables;
    const struct sag_supply *supply; /* NULL: volts are typed */
    const struct sag_board *boards;  /* one a feeder of the list */
    const struct sag_motor_list *list;
    enum sag_device device;       /* kind where none is installed; blank: inverse-time breaker */
    int insulation_c, terminal_c; /* 0: 75 C; by the rule */
};

/* motors: one each of the list; feeders: one a row of the supply, or a feeder of the list where volts are typed;
   transformers: one a row of the supply, NULL where volts are typed. */
struct sag_plant_size {
    struct sag_motor_size *motors;
    size_t motor_count;
    struct sag_feeder_size *feeders;
    struct sag_transformer_size *transformers;
    size_t feeder_count;
};
/* Size a whole plant over threads. The caller frees it with sag_plant_size_free(), also after a failure. */
enum sag_status sag_size_plant(const struct sag_size_job *job, struct sag_plant_size *out);
/* Give its memory back and leave {0}. */
void sag_plant_size_free(struct sag_plant_size *size);
/* One motor by itself; `on_set`: a generator feeds it. */
void sag_size_motor(const struct sag_size_job *job, const struct sag_motor *motor, bool on_set,
                    struct sag_motor_size *out);

/* --- whether it lets the motor start ----------------------------------------------------------------------------- */

/* A maker's curve: opening time at multiples of the rating or setting, times falling. */
struct sag_curve {
    const struct sag_curve_point *points;
    size_t count; /* 0: none given */
};

/* Seconds at a multiple, straight between points on log-log paper; INFINITY below the first point and without any, the
   last point's beyond it; NAN at NAN. */
double sag_curve_time(const struct sag_curve *curve, double multiple);

/* ORDER LET */
#define SAG_LETS(X)                                                                                                    \
    X(NONE, "")                                                                                                        \
    X(YES, "yes")                                                                                                      \
    X(LIKELY, "likely")                                                                                                \
    X(UNSURE, "unsure")                                                                                                \
    X(MAKER, "maker")                                                                                                  \
    X(NO, "no")
/* NONE: no device, or the start is not computed. YES: by what the standard fixes, or by the maker's curve given.
   LIKELY: by usual curves. UNSURE: by the curve given the easiest start passes, the hardest does not. MAKER: only the
   maker's curve can tell. NO: the easiest start opens it. */
enum sag_let {
#define SAG_LET_ENUM(name, word) SAG_LET_##name,
    SAG_LETS(SAG_LET_ENUM) SAG_LET_COUNT
#undef SAG_LET_ENUM
};
const char *sag_let_word(enum sag_let let);

/* How far a start goes towards opening a device: at 1 it opens. Bounds: slowest and fastest curve, easiest and hardest
   start. */
struct sag_passage {
    struct sag_qty used;
    enum sag_let let;
};

/* An overload relay as it counts here. */
struct sag_relay {
    double trip_amps;   /* at which it trips in the end; NAN: no relay, as beside a drive */
    double least, most; /* s from cold at `multiple`, bounds of its class or of the classes it may have */
    double likely;
    double multiple;
    bool class_assumed;
    struct sag_curve curve;
};
/* The relay that is installed, else the one that the code's setting gives; its curve counts before its class. */
struct sag_relay sag_relay_of(const struct sag_tables *tables, const struct sag_motor_size *size,
                              const struct sag_motor *motor, struct sag_curve curve);
/* Seconds until it trips at steady amps, from cold (preload 0) or after it has carried that share of trip_amps long:
   value, and bounds over its class. INFINITY where it never does. */
struct sag_qty sag_relay_time(const struct sag_tables *tables, const struct sag_relay *relay, double amps,
                              double preload);

struct sag_let_start {
    bool computed; /* it starts, as likely */
    bool hangs;    /* as likely it does not get up to speed: there is no start to let pass */
    struct sag_passage relay, device, instant;
    enum sag_let let;   /* the worst of the three */
    double first_amps;  /* highest half cycle, the first with its offset or one after a changeover, as rms of a sine
                           of that peak, hardest start */
    double offset;      /* over the symmetrical amps */
    uint8_t kind;       /* of the device */
    double device_amps; /* its rating or setting */
    bool device_installed, relay_installed;
};
struct sag_let_job {
    const struct sag_tables *tables;
    const struct sag_motor_size *size;
    const struct sag_motor *motor;
    const struct sag_run *runs; /* one a corner, with traces; the motor's closing is the first */
    int run_count;              /* from 1, likely, to all corners */
    struct sag_curve device_curve, relay_curve;
};
/* computed and hangs false where the likely run did not even begin. */
void sag_find_let_start(const struct sag_let_job *job, struct sag_let_start *out);

#endif

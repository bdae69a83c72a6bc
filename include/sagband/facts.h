/* Everything a plate can say, and what is completed from it: one row a fact, one row a choice. The reader's columns,
   the completed motor, the calculation sheet and JSON all loop over these lists. */
#ifndef SAGBAND_FACTS_H
#define SAGBAND_FACTS_H

#define SAG_WATTS_PER_HP    746.0          /* W; the trade's round figure, NEMA MG 1 (from memory) */
#define SAG_METRES_PER_FOOT 0.3048         /* m; exact by definition */
#define SAG_KGM2_PER_LBFT2  0.042140110094 /* kg m2; 0.45359237 x 0.3048^2, exact */
#define SAG_NM_PER_LBFT     1.355817948    /* N m; 0.45359237 x 9.80665 x 0.3048 */

#define SAG_MARGIN_SERVICE_FACTOR                                                                                      \
    1.15                    /* from here on codes and standards grant a margin; NFPA 70 430.32, MG 1 12.43             \
                             */
#define SAG_DEFAULT_HZ 60.0 /* Hz; stated default of the hz columns */

/* clang-format off: one row a line */

/* Numbers a plate may give, in SI (speed stays in rev/min, as every plate and standard has it).
   X(ENUM, symbol on a calculation sheet, words, unit, figures shown) */
#define SAG_GIVEN_FACTS(X)                                                                                             \
    X(RATED_VOLTS, "V_r", "rated volts, line to line", "V", 5)                                                         \
    X(RATED_POWER, "P", "rated shaft power", "W", 6)                                                                   \
    X(EFFICIENCY, "eta", "efficiency at full load", "", 4)                                                             \
    X(POWER_FACTOR, "pf", "power factor at full load", "", 4)                                                          \
    X(RATED_AMPS, "I_plate", "nameplate full-load amps", "A", 5)                                                       \
    X(PHASES, "m", "phases", "", 2)                                                                                    \
    X(HZ, "f_r", "rated frequency", "Hz", 4)                                                                           \
    X(RPM, "n_r", "rated speed", "rev/min", 5)                                                                         \
    X(POLES, "p", "poles", "", 3)                                                                                      \
    X(LOCKED_AMPS, "I_lr", "locked-rotor amps at rated volts", "A", 5)                                                 \
    X(LOCKED_TORQUE, "t_lr", "locked-rotor torque, share of rated", "", 4)                                             \
    X(BREAKDOWN_TORQUE, "t_bd", "breakdown torque, share of rated", "", 4)                                             \
    X(SERVICE_FACTOR, "SF", "service factor", "", 4)                                                                   \
    X(RISE, "dT_r", "winding rise at rated load", "K", 4)                                                              \
    X(YEAR, "Y", "year built", "", 4)                                                                                  \
    X(LOAD_SHARE, "k_load", "load, share of rated power", "", 4)                                                       \
    X(LOAD_POWER, "P_load", "power the load takes at rated speed", "W", 6)                                             \
    X(LOAD_INERTIA, "J_load", "load inertia at the motor shaft", "kg m2", 4)                                           \
    X(ROTOR_INERTIA, "J_rot", "rotor inertia", "kg m2", 4)                                                             \
    X(STALL_TIME, "t_stall", "permitted locked-rotor time, hot", "s", 4)                                               \
    X(STARTS_PER_HOUR, "n_st", "starts an hour", "1/h", 4)                                                             \
    X(START_SETTING, "k_start", "starter setting, share", "", 4)                                                       \
    X(TRANSFER_TIME, "t_tr", "starter transfer time", "s", 4)                                                          \
    X(RAMP_TIME, "t_ramp", "starter ramp time", "s", 4)                                                                \
    X(START_ORDER, "k_ord", "place in the starting sequence", "", 4)                                                   \
    X(START_DELAY, "t_delay", "delay before its start", "s", 4)                                                        \
    X(BRANCH_LENGTH, "L_br", "branch cable length", "m", 4)                                                            \
    X(BRANCH_AMBIENT, "T_br", "ambient of the branch conductors", "degC", 3)                                           \
    X(BRANCH_CONDUCTORS, "n_br", "current-carrying conductors in their raceway", "", 3)                                \
    X(DEVICE_AMPS, "I_dev", "installed device", "A", 4)                                                                \
    X(OVERLOAD_AMPS, "I_ol", "overload setting", "A", 4)

/* Numbers that are only ever worked out. */
#define SAG_DERIVED_FACTS(X)                                                                                           \
    X(SYNC_RPM, "n_s", "synchronous speed", "rev/min", 5)                                                              \
    X(SLIP, "s_r", "rated slip", "", 4)                                                                                \
    X(RATED_TORQUE, "T_r", "rated torque", "N m", 4)                                                                   \
    X(COMPUTED_AMPS, "I_fl", "full-load amps from the plate's arithmetic", "A", 4)                                     \
    X(TABLE_AMPS, "I_tab", "full-load amps of the code table", "A", 4)                                                 \
    X(LOCKED_KVA, "k_lr", "locked-rotor kVA per hp", "kVA/hp", 4)                                                      \
    X(MAIN_FLUX, "c_sat", "main-flux saturation constant", "", 3)                                                      \
    X(RISE_LIMIT, "dT_lim", "rise limit of the insulation class", "K", 4)

/* clang-format on */

enum sag_fact {
#define SAG_FACT_ENUM(name, symbol, words, unit, figures) SAG_##name,
    SAG_GIVEN_FACTS(SAG_FACT_ENUM) SAG_GIVEN_COUNT,
    SAG_FACT_BEFORE_DERIVED = SAG_GIVEN_COUNT - 1,
    SAG_DERIVED_FACTS(SAG_FACT_ENUM) SAG_FACT_COUNT
#undef SAG_FACT_ENUM
};

struct sag_fact_words {
    const char *symbol, *words, *unit;
    int figures;
};
/* `fact` < SAG_FACT_COUNT. */
const struct sag_fact_words *sag_fact_words(enum sag_fact fact);

/* clang-format off: one row a line */

/* Choices: the words a cell may hold. A blank cell is 0, ..._BLANK. X(enumerator, word in a cell) */
#define SAG_DESIGNS(X)                                                                                                 \
    X(SAG_DESIGN_A, "A")                                                                                               \
    X(SAG_DESIGN_B, "B")                                                                                               \
    X(SAG_DESIGN_C, "C")                                                                                               \
    X(SAG_DESIGN_D, "D")                                                                                               \
    X(SAG_DESIGN_N, "N")                                                                                               \
    X(SAG_DESIGN_H, "H")
#define SAG_INSULATIONS(X)                                                                                             \
    X(SAG_INSULATION_A, "A")                                                                                           \
    X(SAG_INSULATION_B, "B")                                                                                           \
    X(SAG_INSULATION_F, "F")                                                                                           \
    X(SAG_INSULATION_H, "H")
#define SAG_ENCLOSURES(X)                                                                                              \
    X(SAG_ENCLOSURE_OPEN, "open")                                                                                      \
    X(SAG_ENCLOSURE_CLOSED, "enclosed")
#define SAG_SATURATIONS(X)                                                                                             \
    X(SAG_SATURATION_LOW, "low")                                                                                       \
    X(SAG_SATURATION_TYPICAL, "typical")                                                                               \
    X(SAG_SATURATION_HIGH, "high")
#define SAG_ROTORS(X)                                                                                                  \
    X(SAG_ROTOR_CAGE, "cage")                                                                                          \
    X(SAG_ROTOR_WOUND, "wound")
#define SAG_LOADS(X)                                                                                                   \
    X(SAG_LOAD_PUMP, "pump")                                                                                           \
    X(SAG_LOAD_FAN, "fan")                                                                                             \
    X(SAG_LOAD_COMPRESSOR, "compressor")                                                                               \
    X(SAG_LOAD_CONVEYOR, "conveyor")                                                                                   \
    X(SAG_LOAD_HOIST, "hoist")                                                                                         \
    X(SAG_LOAD_CONSTANT, "constant")                                                                                   \
    X(SAG_LOAD_NONE, "none")
#define SAG_STARTINGS(X)                                                                                               \
    X(SAG_STARTING_ACROSS, "across")                                                                                   \
    X(SAG_STARTING_WYE_DELTA, "wye_delta")                                                                             \
    X(SAG_STARTING_AUTOTRANSFORMER, "autotransformer")                                                                 \
    X(SAG_STARTING_PART_WINDING, "part_winding")                                                                       \
    X(SAG_STARTING_RESISTOR, "resistor")                                                                               \
    X(SAG_STARTING_REACTOR, "reactor")                                                                                 \
    X(SAG_STARTING_SOFT, "soft")                                                                                       \
    X(SAG_STARTING_DRIVE, "drive")
#define SAG_MATERIALS(X)                                                                                               \
    X(SAG_MATERIAL_CU, "cu")                                                                                           \
    X(SAG_MATERIAL_AL, "al")
#define SAG_RACEWAYS(X)                                                                                                \
    X(SAG_RACEWAY_STEEL, "steel")                                                                                      \
    X(SAG_RACEWAY_PVC, "pvc")                                                                                          \
    X(SAG_RACEWAY_ALUMINUM, "aluminum")
#define SAG_DEVICES(X)                                                                                                 \
    X(SAG_DEVICE_DUAL_ELEMENT_FUSE, "dual_element_fuse")                                                               \
    X(SAG_DEVICE_NONTIME_FUSE, "nontime_fuse")                                                                         \
    X(SAG_DEVICE_INVERSE_TIME_BREAKER, "inverse_time_breaker")                                                         \
    X(SAG_DEVICE_INSTANTANEOUS_BREAKER, "instantaneous_breaker")
#define SAG_TRIP_CLASSES(X)                                                                                            \
    X(SAG_TRIP_CLASS_5, "5")                                                                                           \
    X(SAG_TRIP_CLASS_10, "10")                                                                                         \
    X(SAG_TRIP_CLASS_20, "20")                                                                                         \
    X(SAG_TRIP_CLASS_30, "30")
#define SAG_DUTIES(X)                                                                                                  \
    X(SAG_DUTY_NORMAL, "normal")                                                                                       \
    X(SAG_DUTY_FIRE_PUMP, "fire_pump")                                                                                 \
    X(SAG_DUTY_JOCKEY_PUMP, "jockey_pump")                                                                             \
    X(SAG_DUTY_SPARE, "spare")

/* clang-format on */

#define SAG_CHOICE_VALUE(name, word) name,
enum sag_design {
    SAG_DESIGN_BLANK,
    SAG_DESIGNS(SAG_CHOICE_VALUE)
};
enum sag_insulation {
    SAG_INSULATION_BLANK,
    SAG_INSULATIONS(SAG_CHOICE_VALUE)
};
enum sag_enclosure {
    SAG_ENCLOSURE_BLANK,
    SAG_ENCLOSURES(SAG_CHOICE_VALUE)
};
enum sag_saturation {
    SAG_SATURATION_BLANK,
    SAG_SATURATIONS(SAG_CHOICE_VALUE)
};
enum sag_rotor {
    SAG_ROTOR_BLANK,
    SAG_ROTORS(SAG_CHOICE_VALUE)
};
enum sag_load {
    SAG_LOAD_BLANK,
    SAG_LOADS(SAG_CHOICE_VALUE)
};
enum sag_starting {
    SAG_STARTING_BLANK,
    SAG_STARTINGS(SAG_CHOICE_VALUE)
};
enum sag_material {
    SAG_MATERIAL_BLANK,
    SAG_MATERIALS(SAG_CHOICE_VALUE)
};
enum sag_raceway {
    SAG_RACEWAY_BLANK,
    SAG_RACEWAYS(SAG_CHOICE_VALUE)
};
enum sag_device {
    SAG_DEVICE_BLANK,
    SAG_DEVICES(SAG_CHOICE_VALUE)
};
enum sag_trip_class {
    SAG_TRIP_CLASS_BLANK,
    SAG_TRIP_CLASSES(SAG_CHOICE_VALUE)
};
enum sag_duty {
    SAG_DUTY_BLANK,
    SAG_DUTIES(SAG_CHOICE_VALUE)
};
#undef SAG_CHOICE_VALUE

/* clang-format off: one row a line */
/* X(ENUM, list of its words) ORDER CHOICE */
#define SAG_CHOICES(X)                                                                                                 \
    X(DESIGN, SAG_DESIGNS)                                                                                             \
    X(INSULATION, SAG_INSULATIONS)                                                                                     \
    X(ENCLOSURE, SAG_ENCLOSURES)                                                                                       \
    X(SATURATION, SAG_SATURATIONS)                                                                                     \
    X(ROTOR, SAG_ROTORS)                                                                                               \
    X(LOAD, SAG_LOADS)                                                                                                 \
    X(STARTING, SAG_STARTINGS)                                                                                         \
    X(MATERIAL, SAG_MATERIALS)                                                                                         \
    X(RACEWAY, SAG_RACEWAYS)                                                                                           \
    X(DEVICE, SAG_DEVICES)                                                                                             \
    X(TRIP_CLASS, SAG_TRIP_CLASSES)                                                                                    \
    X(DUTY, SAG_DUTIES)

/* clang-format on */

enum sag_choice {
#define SAG_CHOICE_ENUM(name, list) SAG_##name,
    SAG_CHOICES(SAG_CHOICE_ENUM)
#undef SAG_CHOICE_ENUM
    SAG_CHOICE_COUNT
};

/* The word that a cell holds for `value` ("" for a blank; NULL past the last word). */
const char *sag_choice_word(enum sag_choice choice, unsigned value);

#endif

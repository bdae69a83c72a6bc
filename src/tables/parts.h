/* What the files of this folder share: the tables that questions are asked of, with their columns resolved once. */
#ifndef TABLES_PARTS_H
#define TABLES_PARTS_H

#include "sagband/tables.h"

#define CMIL_PER_MM2 1973.525241 /* circular mils in a square millimetre: (1000 / 25.4)^2 x 4 / pi */

enum {
    USE_COLUMNS = 11
};

/* X(USE, table, the columns a question reads, in the order of its enum). A missing one is found when tables open. */
#define TABLE_USES(X)                                                                                                  \
    X(CODE_LETTERS, "nema_code_letters", "code_letter", "kva_per_hp_min", "kva_per_hp_below")                          \
    X(THREE_PHASE_AMPS, "t430_250_three_phase_flc", "hp", "flc_115v_a", "flc_200v_a", "flc_208v_a", "flc_230v_a",      \
      "flc_460v_a", "flc_575v_a", "flc_2300v_a")                                                                       \
    X(SINGLE_PHASE_AMPS, "t430_248_single_phase_flc", "hp", "flc_115v_a", "flc_200v_a", "flc_208v_a", "flc_230v_a")    \
    X(LOCKED_AMPS_BCD, "nema_locked_rotor_current_bcd", "rated_hp", "locked_rotor_current_230v_a")                     \
    X(IEC_LOCKED_KVA, "iec_60034_12_design_n_kva", "rated_kw_above", "rated_kw_up_to", "locked_rotor_kva_per_kw")      \
    X(TORQUE_AB, "nema_torque_design_ab", "rated_hp", "synchronous_speed_rpm_60hz", "locked_rotor_torque_percent_flt", \
      "breakdown_torque_percent_flt")                                                                                  \
    X(TORQUE_CD, "nema_torque_design_c_d", "rated_hp", "synchronous_speed_rpm_60hz",                                   \
      "locked_rotor_torque_percent_flt", "breakdown_torque_percent_flt", "design")                                     \
    X(TORQUE_N, "iec_60034_12_design_n_torque", "rated_kw_above", "rated_kw_up_to", "poles", "locked_rotor_torque_pu", \
      "breakdown_torque_pu")                                                                                           \
    X(EFFICIENCY_2016, "us_10cfr431_25_efficiency_2016", "rated_hp", "poles", "enclosure",                             \
      "nominal_efficiency_percent")                                                                                    \
    X(EFFICIENCY_1997, "us_10cfr431_25_efficiency_1997", "rated_hp", "poles", "enclosure",                             \
      "nominal_efficiency_percent")                                                                                    \
    X(EFFICIENCY_OLD, "standard_efficiency_pre1992", "rated_hp", "standard_efficiency_percent")                        \
    X(EFFICIENCY_IEC, "iec_60034_30_1_efficiency_50hz", "rated_kw", "poles", "ie_class", "nominal_efficiency_percent") \
    X(TYPICAL_RUNNING, "typical_full_load_data_60hz", "rated_hp", "poles", "full_load_power_factor",                   \
      "full_load_slip_percent")                                                                                        \
    X(ROTOR_INERTIA, "rotor_inertia_default", "rated_hp", "poles", "inertia_kgm2", "low_factor", "high_factor")        \
    X(LOAD_DEFAULTS, "load_defaults", "load", "breakaway_torque_pu", "t0_pu", "exponent", "inertia_multiple",          \
      "inertia_low", "inertia_high")                                                                                   \
    X(SUPPLY_RANGE, "ansi_c84_1_limits", "nominal_system", "range", "maximum_v", "service_min_v",                      \
      "utilization_min_2006_on_v")                                                                                     \
    X(SYSTEMS, "system_vs_nameplate_voltage", "nominal_system_v", "frequency_hz", "remark")                            \
    X(TOLERANCE, "voltage_frequency_tolerance", "document", "condition", "voltage_min_pu", "voltage_max_pu",           \
      "frequency_min_pu", "frequency_max_pu")                                                                          \
    X(DERATING, "nema_unbalance_derating", "voltage_unbalance_percent", "derating_factor_pu")                          \
    X(INSULATION_LIMITS, "insulation_temperature_limits", "insulation_class", "nema_rise_sf100_k",                     \
      "nema_rise_sf115_k")                                                                                             \
    X(TYPICAL_RISE, "rise_typical", "insulation_class", "rise_c", "rise_low_c", "rise_high_c")                         \
    X(SATURATION_CONSTANTS, "saturation_constants", "kind", "main_flux_c")                                             \
    X(MARGINS, "default_torque_margin", "quantity", "value_factor", "low_factor", "high_factor")                       \
    X(OVERLOAD, "t430_32_overload_percent", "condition", "base_pct", "raised_pct")                                     \
    /* ORDER CABLE_USE */                                                                                              \
    X(CABLES, "ch9_t9_ac_impedance", "size", "x_pvc_al_ohm_per_kft", "x_steel_ohm_per_kft", "r_cu_pvc_ohm_per_kft",    \
      "r_cu_al_conduit_ohm_per_kft", "r_cu_steel_ohm_per_kft", "r_al_pvc_ohm_per_kft", "r_al_al_conduit_ohm_per_kft",  \
      "r_al_steel_ohm_per_kft")                                                                                        \
    X(METRIC_CONDUCTORS, "iec_60228_resistance", "area_mm2", "cu_ohm_per_km", "al_ohm_per_km")                         \
    X(CONDUCTORS, "ch9_t8_dc_resistance", "size", "area_cmil", "cu_uncoated_ohm_per_kft", "al_ohm_per_kft")            \
    X(TRANSFORMERS, "transformer_impedance_typical", "type", "rated_kva", "x_over_r")                                  \
    X(NETWORK_DEFAULTS, "network_defaults", "quantity", "value", "low", "high")                                        \
    X(STARTER_DEFAULTS, "starter_defaults", "quantity", "value", "low", "high")                                        \
    X(LOAD_INERTIA, "nema_load_wk2_limits", "rated_hp", "synchronous_speed_rpm", "load_inertia_max_kgm2")              \
    X(FLICKER, "flicker_borderlines", "dips_per_hour", "visibility_percent", "irritation_percent")                     \
    X(START_LIMITS, "starting_voltage_criteria", "criterion", "limit_pu")                                              \
    /* ORDER AMPACITY_USE */                                                                                           \
    X(AMPACITY, "t310_16_ampacity", "size", "cu_60c_a", "cu_75c_a", "cu_90c_a", "al_60c_a", "al_75c_a", "al_90c_a")    \
    X(AMBIENT, "t310_15b1_ambient_30c", "ambient_max_c", "factor_60c", "factor_75c", "factor_90c")                     \
    X(CONDUCTOR_COUNT, "t310_15c1_conductor_count", "count_min", "percent")                                            \
    X(TERMINATIONS, "t110_14c_termination", "circuit", "condition", "column_c")                                        \
    X(GROUND_CONDUCTORS, "t250_122_egc", "device_rating_max_a", "cu_size", "al_size")                                  \
    X(SMALL_WIRES, "t240_4d_small_conductors", "size_awg", "material", "max_device_a")                                 \
    X(RATINGS, "t240_6a_standard_ratings", "rating_a", "fuse_only")                                                    \
    /* ORDER DEVICE_USE */                                                                                             \
    X(DEVICE_SHARES, "t430_52c1_scgf_max_percent", "motor_type", "base_time_delay_fuse_pct",                           \
      "base_nontime_delay_fuse_pct", "base_inverse_time_breaker_pct", "base_instantaneous_trip_pct",                   \
      "ceil_time_delay_fuse_pct", "ceil_nontime_delay_fuse_le_600a_pct", "ceil_inverse_time_flc_le_100a_pct",          \
      "ceil_instantaneous_trip_pct", "ceil_inverse_time_flc_gt_100a_pct", "ceil_fuse_601_to_6000a_pct")                \
    X(TRANSFORMER_SHARES, "t450_3b_transformer_ocp", "protection", "winding", "rated_current_min_a",                   \
      "rated_current_max_a", "max_percent", "next_size_up")                                                            \
    X(THREE_PHASE_LOCKED, "t430_251b_three_phase_lrc", "hp", "lrc_115v_a", "lrc_200v_a", "lrc_208v_a", "lrc_230v_a",   \
      "lrc_460v_a", "lrc_575v_a")                                                                                      \
    X(SINGLE_PHASE_LOCKED, "t430_251a_single_phase_lrc", "hp", "lrc_115v_a", "lrc_208v_a", "lrc_230v_a")               \
    X(TRIP_CLASSES, "overload_trip_classes", "trip_class", "trip_time_min_s", "trip_time_max_s", "at_multiple")        \
    X(DEVICE_TIMES, "device_time_limits", "device", "rating_up_to_a", "multiple", "holds_s", "opens_s")                \
    X(TYPICAL_CURVES, "device_curves_typical", "device", "multiple", "fastest_s", "slowest_s")                         \
    X(PROTECT_DEFAULTS, "protection_defaults", "quantity", "value", "low", "high")

enum table_use {
#define USE(name, ...) USE_##name,
    TABLE_USES(USE)
#undef USE
    USE_COUNT
};

struct used_table {
    const struct sag_table *table;
    size_t column[USE_COLUMNS];
};

const struct used_table *sag_used_table(const struct sag_tables *tables, enum table_use use);

/* A condition that a row must meet: the column (its place in TABLE_USES) holds `text`, or `number` if text is NULL. */
struct row_filter {
    int column;
    const char *text;
    double number;
};

/* The rows on both sides of `at` along a numeric column among those that meet the filters. Both are the same row, and
   weight is 0, on a row's value and beyond the table's ends. */
struct bracket {
    size_t below, above;
    double weight; /* of above */
    bool found, beyond;
};
struct bracket sag_bracket(const struct used_table *used, int along, double at, const struct row_filter filters[],
                           int filter_count);

/* Cells of a used table by column place. */
double sag_table_number(const struct used_table *used, size_t row, int column);
const char *sag_table_text(const struct used_table *used, size_t row, int column);

/* The answer that a single row gives, and the straight line between the bracket's two rows; times `scale`. */
struct sag_answer sag_answer_row(const struct used_table *used, size_t row, int column, double scale);
struct sag_answer sag_answer_between(const struct used_table *used, const struct bracket *bracket, int column,
                                     double scale);
struct sag_answer sag_no_answer(void);

/* The row whose first used column holds `name`; the table's count when none does. */
size_t sag_row_named(const struct used_table *used, const char *name);
/* Value, low and high from the three columns behind it; no answer when there is no such row. */
struct sag_answer sag_answer_named(const struct used_table *used, const char *name);

#endif

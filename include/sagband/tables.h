/* The built-in reference tables, and the questions that stages ask them. A table is a CSV under motordata/tables,
   embedded at build time; its head carries title, source, units and how far it was checked. */
#ifndef SAGBAND_TABLES_H
#define SAGBAND_TABLES_H

#include <stdbool.h>
#include <stddef.h>

#include "sagband/diag.h"
#include "sagband/facts.h"

struct sag_table {
    const char *name;                                      /* file name without .csv */
    const char *title, *source, *units, *status, *checked; /* its head; "" when the head lacks the line */
    const char *notes;                                     /* its `# note:` lines, one a line */
    size_t rows, columns;
    const char *const *head;  /* columns names */
    const char *const *cells; /* rows x columns, "" for an empty cell */
    const double *numbers;    /* the same, NAN where the cell is not a number */
    const bool *from_memory;  /* a row: nobody has checked it against the document */
};

struct sag_tables;

/* Parse the embedded tables. A wrong table is our own mistake and comes back as diagnostics with file and line. */
enum sag_status sag_tables_open(struct sag_tables **opened, struct sag_diags *diags);
/* Also after sag_tables_open() failed; NULL is allowed. */
void sag_tables_free(struct sag_tables *tables);

/* How many tables there are. */
size_t sag_tables_count(const struct sag_tables *tables);
/* By place in the order of their names, NULL past the end. */
const struct sag_table *sag_tables_at(const struct sag_tables *tables, size_t index);
/* NULL when there is none of that name. */
const struct sag_table *sag_tables_find(const struct sag_tables *tables, const char *name);
/* The table that a question is answered from is named so that a report can cite it. */
struct sag_answer {
    double value, low, high; /* NAN when the table has no answer; low = high = value where it has no range */
    const struct sag_table *table;
    bool from_memory; /* a row that it rests on is unchecked */
    bool beyond;      /* outside the table; the nearest row was taken */
};

/* Locked-rotor kVA per hp of a nameplate code letter, low to high end (V is open: taken 25 % wide).
   NEMA MG 1 10.37.2. */
struct sag_answer sag_ask_code_letter(const struct sag_tables *tables, char letter);

/* Full-load amps of the code's motor tables for `hp` (the next larger row for a size between rows) at motor volts
   `volts`; the printed columns stand for 110-120, 200, 208, 220-240, 440-480 and 550-600 V. NFPA 70, 430.6(A). */
struct sag_answer sag_ask_code_amps(const struct sag_tables *tables, int phases, double volts, double hp);

/* Largest locked-rotor amps of a Design B, C or D motor, 60 Hz. NEMA MG 1 12.35. */
struct sag_answer sag_ask_design_locked_amps(const struct sag_tables *tables, double hp, double volts);
/* Largest locked-rotor kVA per kW of a Design N or H motor. IEC 60034-12. */
struct sag_answer sag_ask_iec_locked_kva(const struct sag_tables *tables, double kw);

struct sag_torques {
    struct sag_answer locked, breakdown; /* share of rated torque, the standard's minima */
};
/* design: 'A', 'B', 'C', 'D' by hp and the 60 Hz synchronous speed of its poles; 'N', 'H' by kW and poles. */
struct sag_torques sag_ask_design_torques(const struct sag_tables *tables, char design, double hp, int poles);

struct sag_efficiency_query {
    double hp, year;
    int poles;
    bool open, iec;
};
/* Nominal full-load efficiency, a share, of a motor of that year and size; iec: IE1 by kW, else the US level of
   its year (before 1998 the averages of standard motors, then the first federal level, from 2011 the second; year NAN:
   the first). */
struct sag_answer sag_ask_efficiency(const struct sag_tables *tables, const struct sag_efficiency_query *query);

struct sag_running {
    struct sag_answer power_factor, slip; /* shares */
};
/* Typical full-load power factor and slip. Common practice. */
struct sag_running sag_ask_typical_running(const struct sag_tables *tables, double hp, int poles);

/* Typical rotor inertia, kg m2, with its spread. Common practice. */
struct sag_answer sag_ask_rotor_inertia(const struct sag_tables *tables, double hp, int poles);

struct sag_load_shape {
    double breakaway, t0, exponent;
    struct sag_answer inertia_multiple;
    bool found;
};
/* Load torque T(n) = t0 + (1 - t0) n^exponent of rated, breakaway at standstill; inertia as a multiple of the
   rotor's. `load` is the word of the column. Common practice. */
struct sag_load_shape sag_ask_load_shape(const struct sag_tables *tables, const char *load);

/* Range A of ANSI C84.1 for a nominal system voltage: low = lowest service or utilization voltage, high = highest.
   A voltage not listed is scaled from the 120 V base and `beyond` is set. */
struct sag_answer sag_ask_supply_range(const struct sag_tables *tables, double nominal_volts, bool at_service);

/* The three-phase system volts nearest to some volts in use, NAN for NAN. From 55 Hz up those of ANSI C84.1, below it
   those of IEC 60038. */
double sag_ask_nearest_system(const struct sag_tables *tables, double volts, double hz);

struct sag_limits {
    double volts_low, volts_high, hz_low, hz_high;
    const struct sag_table *table;
    bool from_memory, found;
};
/* A document's voltage and frequency limits, per unit. name: the `document` cell. */
struct sag_limits sag_ask_limits(const struct sag_tables *tables, const char *document, const char *condition);

/* Share of rated power that may be used at a voltage unbalance of `share`; value 0 above the curve's end (5 %).
   NEMA MG 1 14.36. */
struct sag_answer sag_ask_unbalance_derating(const struct sag_tables *tables, double share);

/* Rise limit of an insulation class (its letter) in kelvin, for a service factor. NEMA MG 1 12.43. */
struct sag_answer sag_ask_rise_limit(const struct sag_tables *tables, const char *insulation, double service_factor);
/* Typical rise at rated load when the plate prints the class only. Common practice. */
struct sag_answer sag_ask_typical_rise(const struct sag_tables *tables, const char *insulation);

/* Main-flux saturation constant: value for `kind` ("low", "typical", "high"), low and high from the other two. */
struct sag_answer sag_ask_saturation(const struct sag_tables *tables, const char *kind);

/* Factor on a standard's limit where a plate is silent; `quantity` names the row. */
struct sag_answer sag_ask_margin(const struct sag_tables *tables, const char *quantity);

/* Highest overload setting, share of nameplate amps: value = first setting, high = when it will not start.
   NFPA 70 430.32. */
struct sag_answer sag_ask_overload(const struct sag_tables *tables, double service_factor, double rise_c);

struct sag_cable {
    double ohms_r, ohms_x; /* a phase and metre of one set, 75 degC and 60 Hz; NAN: the table has no such conductor */
    bool scaled;           /* a metric size: its own direct-current resistance, the rest as in the nearest row */
    bool found;
};
/* Impedance of three single conductors in a raceway; blanks: copper, steel. size: as in the table, or "95mm2".
   NFPA 70, Chapter 9, Table 9. */
struct sag_cable sag_ask_cable(const struct sag_tables *tables, const char *size, enum sag_material material,
                               enum sag_raceway raceway);
/* The next size up of that table, NULL past its end and for a metric size. */
const char *sag_larger_conductor(const struct sag_tables *tables, const char *size);

/* X over R of a transformer by its kVA, for one whose plate is silent. Common practice. */
struct sag_answer sag_ask_transformer_x_over_r(const struct sag_tables *tables, double kva, bool dry);
/* The next standard rating up, INFINITY past the table's end. */
double sag_larger_transformer_kva(const struct sag_tables *tables, double kva);

/* What stands in for a blank cell of a supply file, by the name of the row; for starters and drives. Common practice.
 */
struct sag_answer sag_ask_network_default(const struct sag_tables *tables, const char *quantity);
struct sag_answer sag_ask_starter_default(const struct sag_tables *tables, const char *quantity);

/* Largest load inertia, kg m2, that a Design A or B motor brings up to speed, by its 60 Hz synchronous speed; no answer
   outside the table. NEMA MG 1 12.54.1. */
struct sag_answer sag_ask_load_inertia_limit(const struct sag_tables *tables, double hp, double sync_rpm);

struct sag_flicker {
    struct sag_answer visible, irritating; /* dip, share of volts */
};
/* Borderlines of lamp flicker for dips that come that often. IEEE 141, figure 3-8 (from memory). */
struct sag_flicker sag_ask_flicker(const struct sag_tables *tables, double dips_per_hour);

/* A limit on volts while a motor starts, share of the rated volts of what is named. criterion: the cell of the row. */
struct sag_answer sag_ask_start_limit(const struct sag_tables *tables, const char *criterion);

/* --- protection; NFPA 70-2023 where no other document is named --------------------------------------------------- */

/* The sizes of Table 310.16, smallest first: the index-th, NULL past the last. */
const char *sag_conductor_size(const struct sag_tables *tables, size_t index);
/* Its place there. A metric size ("95mm2") takes the largest one of no more area; the count of sizes when there is
   none. */
size_t sag_find_conductor_size(const struct sag_tables *tables, const char *size);
/* Amps of one conductor at 30 C, three in the raceway. column_c: 60, 75 or 90; NAN where the table is empty. */
double sag_ask_ampacity(const struct sag_tables *tables, size_t size, enum sag_material material, int column_c);
/* Table 310.15(B)(1)(1): factor for the ambient, of insulation of that column; NAN: not usable there. */
double sag_ask_ambient_factor(const struct sag_tables *tables, double ambient_c, int column_c);
/* Table 310.15(C)(1): factor for that many conductors in one raceway, 1 up to three. */
double sag_ask_count_factor(const struct sag_tables *tables, double conductors);
/* 110.14(C)(1): column, in degrees C, that terminals allow in a circuit of that many amps. */
int sag_ask_terminal_column(const struct sag_tables *tables, double amps, bool design_bcd);
/* 240.4(D): largest device of wires that small, INFINITY from 8 AWG up. */
double sag_ask_small_wire_limit(const struct sag_tables *tables, const char *size, enum sag_material material);
/* Cross-section in circular mils, NAN when the size is not known. Chapter 9, Table 8. */
double sag_ask_conductor_area(const struct sag_tables *tables, const char *size);
/* Table 250.122: size of the equipment ground behind a device of that many amps; NULL past the table's end. */
const char *sag_ask_ground_conductor(const struct sag_tables *tables, double device_amps, enum sag_material material);

/* Table 240.6(A): the standard rating at or above, at or below; NAN past the ends. Fuses have some more. */
double sag_ask_rating_up(const struct sag_tables *tables, double amps, bool fuse);
double sag_ask_rating_down(const struct sag_tables *tables, double amps, bool fuse);

struct sag_device_share {
    double base, most;    /* of code amps: by the table, and where a motor will not start on that */
    double most_over_600; /* the latter of a fuse of more than 600 A */
    const struct sag_table *table;
    bool from_memory;
};
/* Table 430.52(C)(1) and its exceptions. motor_type: the cell of the row. */
struct sag_device_share sag_ask_device_share(const struct sag_tables *tables, const char *motor_type,
                                             enum sag_device device, double code_amps);

struct sag_transformer_share {
    double share; /* of the winding's rated amps */
    bool next_up; /* the next standard rating is allowed */
    bool found, from_memory;
};
/* Table 450.3(B), both windings 1000 V or less. */
struct sag_transformer_share sag_ask_transformer_share(const struct sag_tables *tables, bool has_secondary_device,
                                                       bool secondary_winding, double rated_amps);

/* Tables 430.251(A) and (B): locked-rotor amps for disconnects and fire pumps, columns and rows as for code amps. */
struct sag_answer sag_ask_code_locked_amps(const struct sag_tables *tables, int phases, double volts, double hp);

struct sag_class_times {
    double least, most; /* s from cold at that many times the setting */
    double multiple;
    bool found, from_memory;
};
/* IEC 60947-4-1. trip_class: its word, "10". */
struct sag_class_times sag_ask_class_times(const struct sag_tables *tables, const char *trip_class);

struct sag_opening_times {
    double least, most; /* s: does not open sooner; has opened by then. INFINITY where nothing is said of `most` */
};
/* What product standards fix of a device of that rating at that many times it. */
struct sag_opening_times sag_ask_standard_times(const struct sag_tables *tables, enum sag_device device, double rating,
                                                double multiple);
/* What is usual. Common practice. */
struct sag_opening_times sag_ask_usual_times(const struct sag_tables *tables, enum sag_device device, double multiple);

/* What stands in for protection facts that are not given, by the name of the row. */
struct sag_answer sag_ask_protection_default(const struct sag_tables *tables, const char *quantity);

#endif

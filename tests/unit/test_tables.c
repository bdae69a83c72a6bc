#include "read_help.h"

static void all_open(void **state)
{
    (void)state;
    struct sag_tables *tables = NULL;
    struct sag_diags diags = {0};
    assert_int_equal(sag_tables_open(&tables, &diags), SAG_OK);
    check_diags("tables", &diags, "");
    assert_true(sag_tables_count(tables) > 50);
    for (size_t i = 0; i < sag_tables_count(tables); i++) {
        const struct sag_table *t = sag_tables_at(tables, i);
        if (!*t->title || !*t->source || !*t->units || !*t->status || !*t->checked)
            fail_msg("%s: its head lacks a line", t->name);
        if (t->rows == 0 || t->columns < 2)
            fail_msg("%s: %zu rows of %zu columns", t->name, t->rows, t->columns);
        if (i && strcmp(sag_tables_at(tables, i - 1)->name, t->name) >= 0)
            fail_msg("%s: not in order", t->name);
        assert_ptr_equal(sag_tables_find(tables, t->name), t);
    }
    assert_null(sag_tables_find(tables, "nema_code_letter"));
    assert_null(sag_tables_at(tables, sag_tables_count(tables)));
    sag_tables_free(tables);
}

static void keeps_cells_and_notes(void **state)
{
    (void)state;
    const struct sag_table *t = sag_tables_find(shared_tables(), "t430_248_single_phase_flc");
    check_text("head", t->head[2], "flc_115v_a");
    check_text("first cell", t->cells[0], "1/6");
    check_text("last cell", t->cells[t->rows * t->columns - 1], "50");
    check_near("number", t->numbers[t->columns + 1], 0.25, 0);
    assert_true(isnan(t->numbers[0]));
    assert_false(t->from_memory[0]);
    t = sag_tables_find(shared_tables(), "nema_code_letters");
    check_text("note", t->notes, "Printed tables show the upper limit less 0.01; V has no upper limit.");
    t = sag_tables_find(shared_tables(), "nema_torque_design_ab");
    assert_non_null(strchr(t->notes, '\n'));
    assert_true(t->from_memory[0]);
}

/* An answer with its bounds; NAN: the table has none. */
static void check_answer(const char *name, const struct sag_answer *got, const double wanted[3])
{
    const double parts[3] = {got->value, got->low, got->high};
    for (int i = 0; i < 3; i++)
        if (isnan(wanted[i]) ? !isnan(parts[i]) : !(fabs(parts[i] - wanted[i]) <= 1e-9 * fabs(wanted[i])))
            fail_msg("%s, %s: got %.9g, wanted %.9g", name, (const char *[]){"value", "low", "high"}[i], parts[i],
                     wanted[i]);
    if (!isnan(got->value) && !got->table)
        fail_msg("%s: names no table", name);
}

static void check_value(const char *name, const struct sag_answer *got, double wanted)
{
    const double same[3] = {wanted, wanted, wanted};
    check_answer(name, got, same);
}

static void check_beyond(const char *name, const struct sag_answer *got, double wanted, bool beyond)
{
    check_value(name, got, wanted);
    if (!isnan(wanted) && got->beyond != beyond)
        fail_msg("%s: %s the table", name, beyond ? "not marked as beyond" : "marked as beyond");
}

static void code_letters(void **state)
{
    (void)state;
    static const struct {
        char letter;
        double wanted[3];
    } rows[] = {
        {'A', {2.835, 2.52, 3.15}}, {'G', {5.95, 5.6, 6.3}}, {'H', {6.7, 6.3, 7.1}},  {'P', {13.25, 12.5, 14}},
        {'V', {25.2, 22.4, 28}},    {'I', {NAN, NAN, NAN}},  {'O', {NAN, NAN, NAN}},  {'Q', {NAN, NAN, NAN}},
        {'g', {NAN, NAN, NAN}},     {'W', {NAN, NAN, NAN}},  {'\0', {NAN, NAN, NAN}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_answer a = sag_ask_code_letter(shared_tables(), rows[i].letter);
        check_answer((const char[2]){rows[i].letter, '\0'}, &a, rows[i].wanted);
        assert_false(a.from_memory);
    }
}

/* A question by phases, volts and hp. */
struct hp_row {
    const char *name;
    int phases;
    double volts, hp, amps;
    bool beyond;
};
typedef struct sag_answer ask_by_hp_fn(const struct sag_tables *tables, int phases, double volts, double hp);

static void check_by_hp(const struct hp_row *rows, size_t count, ask_by_hp_fn *ask)
{
    for (size_t i = 0; i < count; i++) {
        struct sag_answer a = ask(shared_tables(), rows[i].phases, rows[i].volts, rows[i].hp);
        check_beyond(rows[i].name, &a, rows[i].amps, rows[i].beyond);
    }
}

static void code_amps(void **state)
{
    (void)state;
    static const struct hp_row rows[] = {
        {"75 hp 460 V", 3, 460, 75, 96, false},
        {"440 V stands in the same column", 3, 440, 75, 96, false},
        {"480 V too", 3, 480, 75, 96, false},
        {"230 V", 3, 230, 75, 192, false},
        {"240 V", 3, 240, 10, 28, false},
        {"208 V", 3, 208, 5, 16.7, false},
        {"200 V", 3, 200, 3, 11, false},
        {"575 V", 3, 575, 500, 472, false},
        {"600 V", 3, 600, 10, 11, false},
        {"2300 V", 3, 2300, 60, 16, false},
        {"115 V", 3, 115, 2, 13.6, false},
        {"no cell: 115 V 3 hp", 3, 115, 3, NAN, false},
        {"no cell: 230 V 250 hp", 3, 230, 250, NAN, false},
        {"no cell: 2300 V 50 hp", 3, 2300, 50, NAN, false},
        {"no column for 400 V", 3, 400, 10, NAN, false},
        {"next larger row", 3, 460, 8, 14, true},
        {"a hair over a row", 3, 460, 10.000001, 14, false},
        {"below the first row", 3, 460, 0.25, 1.1, true},
        {"last row", 3, 460, 500, 590, false},
        {"past the last row", 3, 460, 501, NAN, false},
        {"single-phase", 1, 115, 0.5, 9.8, false},
        {"a third of a hp", 1, 115, 1.0 / 3, 7.2, false},
        {"single-phase 230 V", 1, 230, 10, 50, false},
        {"single-phase 208 V", 1, 208, 7.5, 44, false},
        {"single-phase 460 V", 1, 460, 5, NAN, false},
        {"single-phase 11 hp", 1, 230, 11, NAN, false},
    };
    check_by_hp(rows, COUNT(rows), sag_ask_code_amps);
}

/* Tables 430.251(A) and (B). */
static void code_locked_amps(void **state)
{
    (void)state;
    static const struct hp_row rows[] = {
        {"first row", 3, 460, 0.5, 10, false},
        {"115 V", 3, 115, 2, 100, false},
        {"115 V has no 3 hp", 3, 115, 3, NAN, false},
        {"200 V", 3, 200, 100, 1668, false},
        {"208 V", 3, 208, 100, 1603, false},
        {"230 V", 3, 230, 100, 1450, false},
        {"100 hp", 3, 460, 100, 725, false},
        {"480 V stands there too", 3, 480, 100, 725, false},
        {"575 V", 3, 575, 100, 580, false},
        {"230 V ends at 200 hp", 3, 230, 250, NAN, false},
        {"last row", 3, 460, 500, 3625, false},
        {"past the table", 3, 460, 501, NAN, false},
        {"between 50 and 60: the larger", 3, 460, 55, 435, true},
        {"below the table", 3, 460, 0.25, 10, true},
        {"no column of 2300 V", 3, 2300, 100, NAN, false},
        {"no column of 400 V", 3, 400, 100, NAN, false},
        {"single-phase first", 1, 115, 0.5, 58.8, false},
        {"single-phase 208 V", 1, 208, 5, 186, false},
        {"single-phase last", 1, 230, 10, 300, false},
        {"single-phase past", 1, 230, 15, NAN, false},
        {"single-phase 460 V", 1, 460, 5, NAN, false},
    };
    check_by_hp(rows, COUNT(rows), sag_ask_code_locked_amps);
}

static void locked_amps(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double hp, volts, amps;
        bool beyond;
    } us[] = {
        {"75 hp 230 V", 75, 230, 1085, false},
        {"75 hp 460 V", 75, 460, 542.5, false},
        {"75 hp 440 V", 75, 440, 1085 * 230.0 / 440, false},
        {"between rows", 80, 230, 1085 + 0.2 * (1450 - 1085), false},
        {"first row", 0.5, 230, 20, false},
        {"above the end, amps a hp", 600, 230, 8700, true},
        {"below the end, amps a hp", 0.25, 230, 10, true},
    };
    static const struct {
        const char *name;
        double kw, kva;
        bool beyond;
    } iec[] = {
        {"4 kW", 4, 13, false},     {"6.3 kW, included", 6.3, 13, false},
        {"6.4 kW", 6.4, 12, false}, {"25 kW", 25, 12, false},
        {"30 kW", 30, 11, false},   {"630 kW", 630, 10, false},
    };
    for (size_t i = 0; i < COUNT(us); i++) {
        struct sag_answer a = sag_ask_design_locked_amps(shared_tables(), us[i].hp, us[i].volts);
        check_beyond(us[i].name, &a, us[i].amps, us[i].beyond);
    }
    for (size_t i = 0; i < COUNT(iec); i++) {
        struct sag_answer a = sag_ask_iec_locked_kva(shared_tables(), iec[i].kw);
        check_beyond(iec[i].name, &a, iec[i].kva, iec[i].beyond);
        assert_true(a.from_memory);
    }
}

static void design_torques(void **state)
{
    (void)state;
    const double hp_per_kw = 1 / 0.746;
    const struct {
        const char *name;
        char design;
        double hp;
        int poles;
        double locked, breakdown;
        bool beyond;
    } rows[] = {
        {"B 75 hp 4 poles", 'B', 75, 4, 1.40, 2.00, false},
        {"A as B", 'A', 10, 6, 1.50, 2.00, false},
        {"B 0.5 hp 14 poles", 'B', 0.5, 14, 1.10, 2.25, false},
        {"B 500 hp 2 poles", 'B', 500, 2, 0.70, 1.75, false},
        {"B between rows", 'B', 12.5, 4, 1.625, 2.00, false},
        {"B above the last row", 'B', 600, 4, 0.80, 1.75, true},
        {"B below the first row", 'B', 0.5, 4, 2.75, 3.00, true},
        {"B 16 poles: none", 'B', 10, 16, NAN, NAN, false},
        {"C 7.5 hp 6 poles", 'C', 7.5, 6, 2.25, 1.90, false},
        {"C 2 poles: none", 'C', 10, 2, NAN, NAN, false},
        {"D 20 hp 4 poles", 'D', 20, 4, 2.75, NAN, false},
        {"N 7.5 kW 4 poles", 'N', 7.5 * hp_per_kw, 4, 1.6, 2.0, false},
        {"N 15 kW 2 poles", 'N', 15 * hp_per_kw, 2, 1.4, 2.0, false},
        {"N 5 kW 10 poles as 8", 'N', 5 * hp_per_kw, 10, 1.3, 1.8, false},
        {"N 500 kW 6 poles", 'N', 500 * hp_per_kw, 6, 0.65, 1.6, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_torques t = sag_ask_design_torques(shared_tables(), rows[i].design, rows[i].hp, rows[i].poles);
        check_beyond(rows[i].name, &t.locked, rows[i].locked, rows[i].beyond);
        check_beyond(rows[i].name, &t.breakdown, rows[i].breakdown, rows[i].beyond);
    }
    assert_false(sag_ask_design_torques(shared_tables(), 'B', 5, 4).locked.from_memory);
    assert_true(sag_ask_design_torques(shared_tables(), 'B', 75, 4).locked.from_memory);
    assert_true(sag_ask_design_torques(shared_tables(), 'B', 22, 4).locked.from_memory); /* one of two rows */
}

/* The upper limit of a row belongs to it, also after the detour over horsepower. */
static void iec_rows_hold_their_upper_limit(void **state)
{
    (void)state;
    static const struct {
        double kw, locked; /* 4 poles */
    } rows[] = {{0.63, 2.0}, {1, 1.9},  {1.6, 1.9}, {2.5, 1.8}, {4, 1.7},   {6.3, 1.6}, {10, 1.6},   {16, 1.5},
                {25, 1.4},   {40, 1.3}, {63, 1.2},  {100, 1.1}, {160, 1.0}, {250, 0.9}, {400, 0.75}, {630, 0.65}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        char name[40];
        snprintf(name, sizeof name, "N %g kW", rows[i].kw);
        struct sag_torques t = sag_ask_design_torques(shared_tables(), 'N', 1000 * rows[i].kw / SAG_WATTS_PER_HP, 4);
        check_value(name, &t.locked, rows[i].locked);
    }
}

/* An answer from outside a table says so. */
static void iec_answers_say_beyond(void **state)
{
    (void)state;
    const struct sag_tables *tables = shared_tables();
    struct sag_answer a = sag_ask_iec_locked_kva(tables, 1000);
    check_beyond("kVA above 630 kW", &a, 10, true);
    a = sag_ask_iec_locked_kva(tables, 0.2);
    check_beyond("kVA below 0.4 kW", &a, 13, true);
    a = sag_ask_design_torques(tables, 'N', 1000, 4).locked;
    check_beyond("torque above 630 kW", &a, 0.65, true);
}

TEST_LIST(tables, cmocka_unit_test(all_open), cmocka_unit_test(keeps_cells_and_notes), cmocka_unit_test(code_letters),
          cmocka_unit_test(code_amps), cmocka_unit_test(code_locked_amps), cmocka_unit_test(locked_amps),
          cmocka_unit_test(design_torques), cmocka_unit_test(iec_rows_hold_their_upper_limit),
          cmocka_unit_test(iec_answers_say_beyond))

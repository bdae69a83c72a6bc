/* What people read of whole lists: the shape of the lines, and the closing count. The program itself is run. */
#include <stdlib.h>

#include "golden/golden.h"
#include "read_help.h"
#include "write/escape.h"

#define DEMO "-s motordata/cawdry-flats/supply.csv motordata/cawdry-flats/motors.csv"

/* Lines wider than `most` (0: any) or ending in a blank, as one text. */
static void faulty_lines(char *text, int most, char *out, size_t room)
{
    size_t used = 0;
    out[0] = '\0';
    for (char *line = strtok(text, "\n"); line && used < room; line = strtok(NULL, "\n")) {
        size_t n = strlen(line);
        bool wide = most && text_width(line) > most;
        if (wide || (n && line[n - 1] == ' '))
            used += (size_t)snprintf(out + used, room - used, "%d \"%s\"\n", text_width(line), line);
    }
}

struct page_row {
    const char *command;
    int most, status;
};

static void check_pages(const struct page_row *rows, size_t count)
{
    static char faulty[8000];
    for (size_t i = 0; i < count; i++) {
        struct ran ran;
        run_command(rows[i].command, &ran);
        assert_int_equal(ran.status, rows[i].status);
        assert_true(strlen(ran.out) > 0);
        faulty_lines(ran.out, rows[i].most, faulty, sizeof faulty);
        check_text(rows[i].command, faulty, "");
        free_ran(&ran);
    }
}

static void demo_fits_a_page(void **state)
{
    (void)state;
    static const struct page_row rows[] = {
        {"sagband check " DEMO, 100, 1},
        {"sagband check --feeder SHOP " DEMO, 100, 1},
        {"sagband check --findings " DEMO, 100, 1},
        {"sagband check --case measured " DEMO, 100, 1},
    };
    check_pages(rows, COUNT(rows));
}

static void no_trailing_blanks(void **state)
{
    (void)state;
    static const struct page_row rows[] = {
        {"sagband explain LP-1 " DEMO, 0, 1},
        {"sagband explain LIFT " DEMO, 0, 1},
        {"sagband explain SHOP " DEMO, 0, 1},
        {"sagband tables", 0, 0},
        {"sagband template motors", 0, 0},
        {"sagband template supply", 0, 0},
        {"sagband --help", 0, 0},
        {"sagband check -v 480 motordata/examples/spreadsheet.csv", 0, 0},
    };
    check_pages(rows, COUNT(rows));
}

static void spill(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
}

#define SUPPLY                                                                                                         \
    "id,fed_from,kind,nominal_volts,ohms_r,measured_ab,measured_bc,measured_ca\n"                                      \
    "U,,utility,480\nA,U,cable,,0.01,480,481,479\nB,U,cable,,0.01\n"
#define MOTORS                                                                                                         \
    "tag,feeder,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,service_factor,code_letter\n"                     \
    "A-1,A,460,50,1775,94.5,0.86,1.15,G\nB-1,B,460,50,1775,94.5,0.86,1.15,G\nB-2,B,460,50,1775,94.5,0.86,1.15,G\n"

/* Volts measured at one feeder say nothing of another: its motors are unknown, and the closing lines say why. */
static void not_judged_is_unknown(void **state)
{
    char supply[100], motors[100], command[400];
    struct ran ran;
    snprintf(supply, sizeof supply, "%s/supply.csv", (char *)*state);
    snprintf(motors, sizeof motors, "%s/motors.csv", (char *)*state);
    spill(supply, SUPPLY);
    spill(motors, MOTORS);
    snprintf(command, sizeof command, "sagband check -f csv --case measured -s %s %s | cut -d, -f1,3", supply, motors);
    run_command(command, &ran);
    check_text("rows", ran.out, "tag,case\nA-1,measured\n");
    check_text("closing lines", ran.err,
               "sagband: 3 motors: 1 ok, 0 watch, 0 fail, 2 unknown\n"
               "sagband: 2 of the unknown were not judged: no volts are known at their feeder in that case\n");
    free_ran(&ran);
    snprintf(command, sizeof command, "sagband check -f csv -s %s %s | cut -d, -f1,3", supply, motors);
    run_command(command, &ran);
    assert_null(strstr(ran.err, "not judged"));
    free_ran(&ran);
}

/* A transformer's device stands on its primary: the main behind it is not that device. */
static void main_has_not_its_transformers_device(void **state)
{
    (void)state;
    struct ran ran;
    run_command("sed '/^T1,/s/,22,,,,$/,22,dual_element_fuse,50,,/' motordata/cawdry-flats/supply.csv | "
                "sagband explain LIFT -q -f csv -s - motordata/cawdry-flats/motors.csv | "
                "grep -c 'T1 by the code.*,installed,,,50\\.'",
                &ran);
    check_text("installed 50 A", ran.out, "1\n");
    free_ran(&ran);
}

/* A drive watches its motor itself, so its sheet takes no relay for the let-start check; that of another motor does. */
static void drive_has_no_relay(void **state)
{
    (void)state;
    static const struct {
        const char *starting, *lines;
    } rows[] = {{"drive", "0\n"}, {"across", "1\n"}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        char command[300];
        struct ran ran;
        snprintf(command, sizeof command,
                 "printf 'tag,feeder,rated_volts,rated_hp,poles,starting\\nD,U,460,50,4,%s\\n' | "
                 "sagband explain D -q -v 480 - | grep -c 'relay taken'",
                 rows[i].starting);
        run_command(command, &ran);
        check_text(rows[i].starting, ran.out, rows[i].lines);
        free_ran(&ran);
    }
}

TEST_LIST(plant_text, cmocka_unit_test(demo_fits_a_page), cmocka_unit_test(no_trailing_blanks),
          cmocka_unit_test(drive_has_no_relay), cmocka_unit_test(main_has_not_its_transformers_device),
          IN_FOLDER(not_judged_is_unknown))

/* A recorder's log read: rows to samples, what is counted, or the exact words why not. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "read_help.h"

/* Samples as text: "time clock ab bc ca", one a line. */
struct told {
    char text[600];
    size_t used;
};

static enum sag_status tell(void *context, const struct sag_volt_sample *s)
{
    struct told *t = context;
    t->used += (size_t)snprintf(t->text + t->used, sizeof t->text - t->used, "%g %.3f %g %g %g\n", s->time, s->clock,
                                s->line[0], s->line[1], s->line[2]);
    return SAG_OK;
}

struct log_row {
    const char *name, *text, *samples;
    int rows, blank, equal, backs;
    const char *notes;
};

static void check_log(const struct log_row *row)
{
    struct sag_input input = text_input("l.csv", row->text);
    struct sag_diags diags = {0};
    struct sag_log_facts facts;
    struct told told = {0};
    enum sag_status status = sag_read_volt_log(&input, &(struct sag_log_events){tell, &told}, &facts, &diags);
    check_diags(row->name, &diags, row->notes ? row->notes : "");
    assert_int_equal(status, SAG_OK);
    check_text(row->name, told.text, row->samples);
    check_near(row->name, (double)facts.rows, row->rows, 0);
    check_near(row->name, (double)facts.blank_rows, row->blank, 0);
    check_near(row->name, (double)facts.equal_times, row->equal, 0);
    check_near(row->name, (double)facts.clock_backs, row->backs, 0);
}

static void taken(void **state)
{
    (void)state;
    static const struct log_row rows[] = {
        {"seconds", "time,ab,bc,ca\n10,480,481,482\n20.5,479,480,481\n",
         "0 10.000 480 481 482\n10.5 20.500 479 480 481\n", 2, 0, 0, 0, NULL},
        {"columns in another order", "ca,ab,time,bc\n3,1,0,2\n6,4,1,5\n", "0 0.000 1 2 3\n1 1.000 4 5 6\n", 2, 0, 0, 0,
         NULL},
        {"dates", "time,ab,bc,ca\n1970-01-02 00:00:00,1,2,3\n1970-01-02T00:01:00.5,4,5,6\n",
         "0 86400.000 1 2 3\n60.5 86460.500 4 5 6\n", 2, 0, 0, 0, NULL},
        {"semicolons and decimal commas", "time;ab;bc;ca\n0,5;480,25;1;2\n1,5;480;1;2\n",
         "0 0.500 480.25 1 2\n1 1.500 480 1 2\n", 2, 0, 0, 0, NULL},
        {"a blank cell and a row cut short", "time,ab,bc,ca\n0,1,2,3\n1,1,,3\n2,1\n3,1,2,3\n",
         "0 0.000 1 2 3\n1 1.000 nan nan nan\n2 2.000 nan nan nan\n3 3.000 1 2 3\n", 4, 2, 0, 0, NULL},
        {"what recorders write for no reading", "time,ab,bc,ca\n0,1,2,3\n1,---,2,3\n2,1,NaN,3\n3,-,-,-\n",
         "0 0.000 1 2 3\n1 1.000 nan nan nan\n2 2.000 nan nan nan\n3 3.000 nan nan nan\n", 4, 3, 0, 0, NULL},
        {"zero volts are volts", "time,ab,bc,ca\n0,0,0,0\n1,1,2,3\n", "0 0.000 0 0 0\n1 1.000 1 2 3\n", 2, 0, 0, 0,
         NULL},
        {"equal times", "time,ab,bc,ca\n0,1,2,3\n0,4,5,6\n1,7,8,9\n", "0 0.000 1 2 3\n0 0.000 4 5 6\n1 1.000 7 8 9\n",
         3, 0, 1, 0, NULL},
        /* 01:50 is followed by 01:00, ten minutes later */
        {"the hour that comes twice",
         "time,ab,bc,ca\n1970-01-01 01:50:00,1,2,3\n1970-01-01 01:00:00,1,2,3\n1970-01-01 01:10:00,1,2,3\n",
         "0 6600.000 1 2 3\n600 3600.000 1 2 3\n1200 4200.000 1 2 3\n", 3, 0, 0, 1, NULL},
        {"offsets that change with the zone",
         "time,ab,bc,ca\n1970-01-01T01:50:00+02:00,1,2,3\n1970-01-01T01:00:00+01:00,1,2,3\n",
         "0 6600.000 1 2 3\n600 3600.000 1 2 3\n", 2, 0, 0, 0, NULL},
        {"heads that people write", "Timestamp,Time,AB,BC,CA\nx,0,1,2,3\ny,1,1,2,3\n", "0 0.000 1 2 3\n1 1.000 1 2 3\n",
         2, 0, 0, 0, "1:1 W column \"Timestamp\" is ignored; did you mean time?\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_log(&rows[i]);
}

struct bad_log {
    const char *name, *text, *notes;
};

static void refused(void **state)
{
    (void)state;
    static const struct bad_log rows[] = {
        {"no rows", "time,ab,bc,ca\n", "0:0 E a log needs at least two rows (columns time, ab, bc, ca)\n"},
        {"one row", "time,ab,bc,ca\n0,1,2,3\n", "0:0 E a log needs at least two rows (columns time, ab, bc, ca)\n"},
        {"heads of a recorder", "time,U12,U23,L3-L1\n0,1,2,3\n",
         "1:0 E the header has no column ab; a log has time,ab,bc,ca\n"
         "1:0 E the header has no column bc; a log has time,ab,bc,ca\n"
         "1:0 E the header has no column ca; a log has time,ab,bc,ca\n"
         "1:2 W column \"U12\" is ignored; did you mean ab?\n"
         "1:3 W column \"U23\" is ignored; did you mean bc?\n"
         "1:4 W column \"L3-L1\" is ignored; did you mean ca?\n"},
        {"two kinds of time", "time,ab,bc,ca\n2026-03-02 00:00:00,1,2,3\n2026-03-02T00:01:00Z,1,2,3\n3,1,2,3\n",
         "3:1 E time: written in another way than in line 2; write all of them alike\n"
         "4:1 E time: written in another way than in line 2; write all of them alike\n"},
        {"rows out of order", "time,ab,bc,ca\n5,1,2,3\n4,1,2,3\n6,1,2,3\n",
         "3:1 E time: before that of line 2; sort the rows by time\n"},
        {"an hour back is for local clocks only", "time,ab,bc,ca\n6600,1,2,3\n3600,1,2,3\n",
         "3:1 E time: before that of line 2; sort the rows by time\n"},
        {"two hours back", "time,ab,bc,ca\n2026-03-02 02:50:00,1,2,3\n2026-03-02 00:51:00,1,2,3\n",
         "3:1 E time: before that of line 2; sort the rows by time\n"},
        {"a clock that was set", "time,ab,bc,ca\n2000-01-01 00:00:00,1,2,3\n2026-03-02 00:00:00,1,2,3\n",
         "3:1 E time: 9557 days after line 2; set the clock right, or make two logs of it\n"},
        {"volts below zero, too many, none", "time,ab,bc,ca\n0,-1,2,3\n1,1,800000,3\n2,1,2,OVL\n3,1,2,3\n4,1,2,3\n",
         "2:2 E ab: \"-1\" is outside 0 to 765000 V\n3:3 E bc: \"800000\" is outside 0 to 765000 V\n"
         "4:4 E ca: \"OVL\" is not a number; write one, or leave the cell blank\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_input input = text_input("l.csv", rows[i].text);
        struct sag_diags diags = {0};
        struct sag_log_facts facts;
        struct told told = {0};
        enum sag_status status = sag_read_volt_log(&input, &(struct sag_log_events){tell, &told}, &facts, &diags);
        check_diags(rows[i].name, &diags, rows[i].notes);
        assert_int_equal(status, SAG_BAD_INPUT);
    }
}

/* What is wrong in every row is told for as many as are kept, and all are counted. */
static void many_faults(void **state)
{
    (void)state;
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    fputs("time,ab,bc,ca\n", stream);
    for (int i = 0; i < 1000; i++)
        fprintf(stream, "%d,x,2,3\n", i);
    fclose(stream);
    struct sag_input input = {.name = "l.csv", .bytes = text, .size = size};
    struct sag_diags diags = {0};
    struct sag_log_facts facts;
    struct told told = {0};
    assert_int_equal(sag_read_volt_log(&input, &(struct sag_log_events){tell, &told}, &facts, &diags), SAG_BAD_INPUT);
    assert_int_equal(diags.errors, 1000);
    assert_int_equal(diags.count, SAG_DIAGS_KEPT);
    check_text("no sample", told.text, "");
    sag_diags_free(&diags);
    free(text);
}

TEST_LIST(volt_log, cmocka_unit_test(taken), cmocka_unit_test(refused), cmocka_unit_test(many_faults))

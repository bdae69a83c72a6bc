#include "fuzz/chain.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <time.h>

#include "fuzz/circuits.h"
#include "fuzz/printing.h"
#include "fuzz/promises.h"
#include "fuzz/whole.h"
#include "sanitizer.h"

enum {
    MOST_MOTORS = 200 /* of a list: speed matters more than length */
};

struct chain {
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_fit_store store;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_motor_volts *volts;    /* NULL without a supply */
    struct sag_board_report *reports; /* the same */
    struct circuits circuits;
    struct sag_plant plant;
    struct sag_result *results;
    size_t count;
    const struct chain_options *options;
    struct sag_curve_point *points;
    struct sag_curve curve; /* of the input */
    bool has_supply, says_nan;
};

/* Opened once; they are never written to. */
const struct sag_tables *chain_tables(void)
{
    static struct sag_tables *tables;
    if (tables)
        return tables;
    struct sag_diags diags = {0};
    gsl_set_error_handler_off();
    must(sag_tables_open(&tables, &diags) == SAG_OK, "the built-in tables are right", "tables");
    sag_diags_free(&diags);
    return tables;
}

static struct sag_input named(const char *name, const void *bytes, size_t size)
{
    return (struct sag_input){.name = name, .bytes = bytes, .size = size};
}

static enum sag_status read_all(const struct chain_input *in, struct chain *c, struct sag_diags *diags)
{
    c->has_supply = in->supply != NULL;
    if (c->has_supply) {
        struct sag_input input = named("supply.csv", in->supply, in->supply_size);
        enum sag_status status = sag_read_supply(&input, chain_tables(), &c->supply, diags);
        if (status != SAG_OK)
            return status;
    }
    const struct sag_supply *supply = c->has_supply ? &c->supply : NULL;
    if (in->curve) {
        struct sag_input input = named("curve.csv", in->curve, in->curve_size);
        enum sag_status status = sag_read_curve(&input, &c->points, &c->curve.count, diags);
        c->curve.points = c->points;
        if (status != SAG_OK)
            return status;
    }
    if (in->plate)
        return sag_read_plate(in->plate, chain_tables(), supply, &c->list, diags);
    struct sag_input input = named("motors.csv", in->motors, in->motors_size);
    return sag_read_motors(&input, chain_tables(), supply, &c->list, diags);
}

static void find_boards(struct chain *c, const struct sag_motor_list *list, struct sag_board **boards)
{
    const struct sag_typed_volts one = {.line = {480}, .count = 1};
    const struct sag_typed_volts three = {.line = {480, 470, 484}, .count = 3, .hz = 60};
    const struct sag_typed_volts typed = c->options->measured ? three : one;
    const struct sag_supply *supply = c->has_supply ? &c->supply : NULL;
    must(sag_find_boards(chain_tables(), supply, &typed, list, boards) == SAG_OK, "memory", "boards");
    for (size_t i = 0; i < list->feeder_count; i++)
        for (int k = 0; k < SAG_CASE_COUNT; k++)
            must_be_between(&(*boards)[i].of[k].volts, sag_case_word((enum sag_case)k));
}

/* The motors hang on one board only, so every other node is looked at as if it were a feeder. */
static void look_at_all_nodes(struct chain *c)
{
    struct sag_motor_list list = {.feeder_count = c->supply.count};
    struct sag_board *boards = NULL;
    list.feeders = calloc(c->supply.count + 1, sizeof *list.feeders);
    must(list.feeders != NULL, "memory", "boards");
    for (size_t i = 0; i < c->supply.count; i++) {
        must(c->supply.nodes[i].parent < (int32_t)i, "parents stand before children", "supply");
        list.feeders[i] = (struct sag_feeder){c->supply.nodes[i].id, (int32_t)i};
    }
    find_boards(c, &list, &boards);
    free(boards);
    free(list.feeders);
}

static void judge(struct chain *c)
{
    size_t indexes[MOST_MOTORS];
    c->count = c->list.count < MOST_MOTORS ? c->list.count : MOST_MOTORS;
    for (size_t i = 0; i < c->count; i++)
        indexes[i] = i;
    c->plant = (struct sag_plant){
        .tables = chain_tables(), .list = &c->list, .boards = c->boards, .volts = c->volts, .store = &c->store};
    memcpy(c->plant.cases, c->options->cases, sizeof c->plant.cases);
    c->results = calloc(c->count, sizeof *c->results);
    must(c->results != NULL, "memory", "results");
    must(sag_judge_motors(&c->plant, indexes, c->count, c->results) == SAG_OK, "every list is judged", "judge");
    for (size_t i = 0; i < c->count; i++) {
        must_be_consistent(&c->results[i]);
        must_be_caged(c->list.plates[i].tag);
    }
}

/* --- the network and starts ----------------------------------------------------------------------------------------
 */

enum {
    MOST_STARTS = CIRCUIT_STARTS
};

static bool build_grids(struct chain *c)
{
    struct sag_grid_job job = {chain_tables(),   c->has_supply ? &c->supply : NULL, c->boards, &c->list, &c->store,
                               SAG_CORNER_LIKELY};
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        job.corner = (enum sag_corner)k;
        must(sag_grid_build(&job, &c->grids[k]) == SAG_OK, "memory", "grid");
    }
    return c->list.count <= MOST_MOTORS && c->grids[0].node_count <= MOST_MOTORS;
}

/* The volts, or a word why there are none. */
static bool find_volts(struct chain *c)
{
    struct sag_diags diags = {0};
    struct sag_volts_job job = {.grid = &c->grids[0], .supply = c->has_supply ? &c->supply : NULL, .list = &c->list};
    memcpy(job.cases, c->options->cases, sizeof job.cases);
    c->volts = calloc(c->list.count, sizeof *c->volts);
    c->reports = calloc(c->grids[0].node_count, sizeof *c->reports);
    must(c->volts && c->reports, "memory", "volts");
    enum sag_status status = sag_find_volts(&job, c->boards, c->volts, c->reports, &diags);
    must_explain(status, &diags);
    for (size_t i = 0; i < c->list.count && status == SAG_OK; i++)
        for (int k = 0; k < SAG_CASE_COUNT; k++)
            must(!isinf(c->volts[i].at_motor[k]) && !(c->volts[i].at_motor[k] < 0), "volts are volts", "volts");
    for (size_t i = 0; i < c->grids[0].node_count && status == SAG_OK; i++)
        must(!isnan(c->reports[i].fault_amps), "a fault has amps", "faults");
    sag_diags_free(&diags);
    return status == SAG_OK;
}

static void judge_starts(struct chain *c)
{
    size_t indexes[MOST_STARTS];
    const size_t count = c->list.count < MOST_STARTS ? c->list.count : MOST_STARTS;
    for (size_t i = 0; i < count; i++)
        indexes[i] = i;
    const struct sag_start_plan plan = {.plant = &c->plant, .grids = c->grids, .motors = indexes, .count = count};
    struct sag_start_result results[MOST_STARTS];
    must_judge_starts(&plan, results);
}

static void judge_circuits(struct chain *c, bool starts)
{
    const struct circuits_job job = {.plant = &c->plant,
                                     .supply = c->has_supply ? &c->supply : NULL,
                                     .grids = c->grids,
                                     .reports = c->reports,
                                     .starts = starts,
                                     .says_nan = c->says_nan,
                                     .options = c->options,
                                     .curve = c->curve};
    run_circuits(&job, &c->circuits);
}

/* --- printing --------------------------------------------------------------------------------------------------- */

static size_t put_results(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct chain *c = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_row_text text;
    size_t rows = 0;
    for (size_t i = 0; i < c->count; i++)
        for (int k = 0; k < SAG_CASE_COUNT; k++) {
            if (!c->results[i].of[k].present)
                continue;
            sag_check_row(&c->list, &c->results[i], (enum sag_case)k, &text, values);
            put_one(writer, sheet, values);
            rows++;
        }
    return rows;
}

static size_t put_findings(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct chain *c = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    size_t rows = 0;
    for (size_t i = 0; i < c->count; i++)
        for (size_t k = 0; k < c->results[i].finding_count; k++, rows++) {
            sag_finding_row(&c->list, &c->results[i].findings[k], values);
            put_one(writer, sheet, values);
        }
    return rows;
}

static void print_for_people(const struct chain *c)
{
    struct words words;
    begin_words(&words);
    for (size_t i = 0; i < c->count; i++)
        sag_print_findings(words.stream, false, &c->list, c->results[i].findings, c->results[i].finding_count);
    end_words(&words, c->says_nan, "findings");
}

static void print_all(const struct chain *c)
{
    print_in_all_formats(&(struct print_job){&sag_check_view, c->boards[0].id, put_results, c, c->says_nan});
    print_in_all_formats(&(struct print_job){&sag_finding_view, c->boards[0].id, put_findings, c, c->says_nan});
    print_for_people(c);
}

/* --- calculation sheets ------------------------------------------------------------------------------------------ */

static void print_sheet(const struct chain *c, struct sag_lines *lines)
{
    struct words words;
    begin_words(&words);
    for (size_t i = 0; i < lines->count; i++)
        must_be_between(&lines->items[i].value, lines->items[i].words);
    sag_print_lines(words.stream, lines);
    end_words(&words, c->says_nan, "sheet");
    sag_lines_free(lines);
}

/* A motor's sheet works everything out again for each assumed fact: too slow for a list. */
static void explain(const struct chain *c, bool motor)
{
    const struct circuits *sizes = &c->circuits;
    const struct sag_sheet_job job = {.plant = &c->plant,
                                      .supply = c->has_supply ? &c->supply : NULL,
                                      .size = sizes->size.motors ? &sizes->size : NULL,
                                      .branch = sizes->branch_count ? sizes->branches : NULL,
                                      .feeders = sizes->feeders,
                                      .transformers = sizes->transformers,
                                      .units = {.si = true}};
    struct sag_lines lines = {0};
    must(sag_explain_feeder(&job, c->results, c->count, &lines) == SAG_OK, "memory", "sheet");
    print_sheet(c, &lines);
    if (!motor)
        return;
    must(sag_explain_motor(&job, c->results, &lines) == SAG_OK, "memory", "sheet");
    print_sheet(c, &lines);
}

/* --- the chain -------------------------------------------------------------------------------------------------- */

static void release(struct chain *c)
{
    circuits_free(&c->circuits);
    free(c->points);
    free(c->reports);
    free(c->results);
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&c->grids[k]);
    free(c->volts);
    free(c->boards);
    sag_fit_store_free(&c->store);
    sag_motor_list_free(&c->list);
    sag_supply_free(&c->supply);
}

/* Whatever stands around them: a character that is shown as another may set the letters apart. */
static bool has_nan_letters(const void *bytes, size_t size)
{
    const char *text = bytes;
    for (size_t i = 0; i + 3 <= size; i++)
        if (strncasecmp(text + i, "nan", 3) == 0 || strncasecmp(text + i, "inf", 3) == 0)
            return true;
    return false;
}

static bool input_has_nan_word(const struct chain_input *in)
{
    return (in->supply && has_nan_letters(in->supply, in->supply_size)) ||
           (in->motors && has_nan_letters(in->motors, in->motors_size)) ||
           (in->plate && has_nan_letters(in->plate, strlen(in->plate)));
}

static void run_the_rest(const struct chain *c)
{
    const struct whole_job job = {.options = c->options,
                                  .plant = &c->plant,
                                  .supply = c->has_supply ? &c->supply : NULL,
                                  .grids = c->grids,
                                  .reports = c->reports,
                                  .circuits = &c->circuits,
                                  .results = c->results,
                                  .curve = c->curve,
                                  .says_nan = c->says_nan};
    run_whole(&job);
}

/* What was read goes through everything. */
static void run_stages(struct chain *c, bool typed_plate)
{
    bool whole = c->options->whole && c->list.count <= WHOLE_MOTORS && c->supply.count <= WHOLE_NODES;
    if (c->has_supply)
        look_at_all_nodes(c);
    find_boards(c, &c->list, &c->boards);
    bool small = build_grids(c);
    bool solved = !c->has_supply || find_volts(c);
    if (!solved) { /* a program stops here; the judge must bear what the boards alone say */
        free(c->volts);
        c->volts = NULL;
    }
    judge(c);
    if (small && solved && !whole)
        judge_starts(c);
    if (solved)
        judge_circuits(c, small);
    print_all(c);
    explain(c, typed_plate);
    if (solved && whole)
        run_the_rest(c);
}

/* A second for a whole plant. It is the processor's time, of all threads together, which is never less than what a
   clock on the wall shows on an idle machine with one processor, and does not count what others do to a shared one.
   It holds for the stored cases in the plain build: a fuzzer's counters, shared by threads, make it a hundred times as
   long there, where the clock on the wall ends what hangs. */
#define MOST_SECONDS 1.0

static double spent_seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void run(const struct chain_input *in)
{
    static const struct chain_options usual = {.cases = {true, true, true, true}};
    struct chain c = {.says_nan = input_has_nan_word(in), .options = in->options ? in->options : &usual};
    struct sag_diags diags = {0};
    enum sag_status status = read_all(in, &c, &diags);
    sag_diags_sort(&diags);
    must_explain(status, &diags);
    if (status == SAG_OK)
        run_stages(&c, in->plate != NULL);
    release(&c);
    sag_diags_free(&diags);
}

void run_chain(const struct chain_input *in)
{
    double before = spent_seconds();
    run(in);
    must(HAS_SANITIZER || spent_seconds() - before < MOST_SECONDS, "a plant takes less than a second of the processor",
         "chain");
}

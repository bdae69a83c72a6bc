#include "fuzz/chain.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz/circuits.h"
#include "fuzz/promises.h"

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
    if (in->plate)
        return sag_read_plate(in->plate, chain_tables(), supply, &c->list, diags);
    struct sag_input input = named("motors.csv", in->motors, in->motors_size);
    return sag_read_motors(&input, chain_tables(), supply, &c->list, diags);
}

static void find_boards(struct chain *c, const struct sag_motor_list *list, struct sag_board **boards)
{
    const struct sag_typed_volts typed = {.line = {480}, .count = 1};
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
    c->plant = (struct sag_plant){.tables = chain_tables(),
                                  .list = &c->list,
                                  .boards = c->boards,
                                  .volts = c->volts,
                                  .cases = {true, true, true, true},
                                  .store = &c->store};
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
    const struct sag_volts_job job = {
        &c->grids[0], c->has_supply ? &c->supply : NULL, &c->list, {true, true, true, true}};
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

static void look_at_start(const struct sag_start_case *c)
{
    const struct sag_qty *known[] = {&c->volts_lowest, &c->board_lowest,  &c->amps_peak,     &c->amps_transfer,
                                     &c->heat_used,    &c->time_to_speed, &c->least_surplus, &c->speed_end,
                                     &c->other_share,  &c->coil_share,    &c->lamp_dip};
    for (size_t i = 0; i < sizeof known / sizeof *known && !c->collapses; i++)
        must_be_between(known[i], "start");
    must(c->collapses || !c->likely.runs_up || c->likely.time_to_speed >= 0, "who runs up takes time", "start");
}

static void judge_starts(struct chain *c)
{
    size_t indexes[MOST_STARTS];
    struct sag_start_result results[MOST_STARTS];
    const size_t count = c->list.count < MOST_STARTS ? c->list.count : MOST_STARTS;
    for (size_t i = 0; i < count; i++)
        indexes[i] = i;
    const struct sag_start_plan plan = {.plant = &c->plant, .grids = c->grids, .motors = indexes, .count = count};
    must(sag_judge_starts(&plan, results) == SAG_OK, "every start is judged", "start");
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < SAG_CASE_COUNT; k++)
            if (results[i].of[k].present)
                look_at_start(&results[i].of[k]);
}

static void judge_circuits(struct chain *c, bool starts)
{
    const struct circuits_job job = {.plant = &c->plant,
                                     .supply = c->has_supply ? &c->supply : NULL,
                                     .grids = c->grids,
                                     .reports = c->reports,
                                     .starts = starts,
                                     .says_nan = c->says_nan};
    run_circuits(&job, &c->circuits);
}

/* --- printing --------------------------------------------------------------------------------------------------- */

typedef size_t put_rows_fn(const struct chain *chain, const struct sag_writer *writer, struct sag_sheet *sheet);

static size_t put_results(const struct chain *c, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_row_text text;
    size_t rows = 0;
    for (size_t i = 0; i < c->count; i++)
        for (int k = 0; k < SAG_CASE_COUNT; k++) {
            if (!c->results[i].of[k].present)
                continue;
            sag_check_row(&c->list, &c->results[i], (enum sag_case)k, &text, values);
            must(writer->row(sheet, values) == SAG_OK, "every row is written", writer->name);
            rows++;
        }
    return rows;
}

static size_t put_findings(const struct chain *c, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    size_t rows = 0;
    for (size_t i = 0; i < c->count; i++)
        for (size_t k = 0; k < c->results[i].finding_count; k++, rows++) {
            sag_finding_row(&c->list, &c->results[i].findings[k], values);
            must(writer->row(sheet, values) == SAG_OK, "every finding is written", writer->name);
        }
    return rows;
}

/* Columns that machines see; a column for people only has no name. */
static size_t named_columns(const struct sag_view *view)
{
    size_t n = 0;
    for (size_t i = 0; i < view->count; i++)
        n += view->columns[i].name != NULL;
    return n;
}

static void print_as(const struct chain *c, const struct sag_writer *writer, const struct sag_view *view,
                     put_rows_fn *put_rows)
{
    char *text = NULL;
    struct printed printed = {.format = writer->name, .columns = named_columns(view), .says_nan = c->says_nan};
    struct sag_sheet sheet = {.stream = open_memstream(&text, &printed.size), .view = view};
    must(sheet.stream != NULL, "memory", writer->name);
    writer->begin(&sheet, c->boards[0].id);
    printed.rows = put_rows(c, writer, &sheet);
    writer->end(&sheet);
    fclose(sheet.stream);
    printed.text = text;
    must_be_readable(&printed);
    free(text);
}

static void print_for_people(const struct chain *c)
{
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    must(stream != NULL, "memory", "findings");
    for (size_t i = 0; i < c->count; i++)
        sag_print_findings(stream, false, &c->list, c->results[i].findings, c->results[i].finding_count);
    fclose(stream);
    must_be_plain(text, size, "findings");
    must(c->says_nan || !has_nan_word(text, size), "no number is printed that is none", "findings");
    free(text);
}

static void print_all(const struct chain *c)
{
    for (size_t i = 0; sag_writer_at(i); i++) {
        print_as(c, sag_writer_at(i), &sag_check_view, put_results);
        print_as(c, sag_writer_at(i), &sag_finding_view, put_findings);
    }
    print_for_people(c);
}

/* --- calculation sheets ------------------------------------------------------------------------------------------ */

static void print_sheet(const struct chain *c, struct sag_lines *lines)
{
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    must(stream != NULL, "memory", "sheet");
    for (size_t i = 0; i < lines->count; i++)
        must_be_between(&lines->items[i].value, lines->items[i].words);
    sag_print_lines(stream, lines);
    fclose(stream);
    must_be_plain(text, size, "sheet");
    must(c->says_nan || !has_nan_word(text, size), "no number is printed that is none", "sheet");
    free(text);
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

static bool input_has_nan_word(const struct chain_input *in)
{
    return (in->supply && has_nan_word(in->supply, in->supply_size)) ||
           (in->motors && has_nan_word(in->motors, in->motors_size)) ||
           (in->plate && has_nan_word(in->plate, strlen(in->plate)));
}

void run_chain(const struct chain_input *in)
{
    struct chain c = {.says_nan = input_has_nan_word(in)};
    struct sag_diags diags = {0};
    enum sag_status status = read_all(in, &c, &diags);
    sag_diags_sort(&diags);
    must_explain(status, &diags);
    if (status == SAG_OK) {
        if (c.has_supply)
            look_at_all_nodes(&c);
        find_boards(&c, &c.list, &c.boards);
        bool small = build_grids(&c);
        bool solved = !c.has_supply || find_volts(&c);
        if (!solved) { /* a program stops here; the judge must bear what the boards alone say */
            free(c.volts);
            c.volts = NULL;
        }
        judge(&c);
        if (small && solved)
            judge_starts(&c);
        if (solved)
            judge_circuits(&c, small);
        print_all(&c);
        explain(&c, in->plate != NULL);
    }
    release(&c);
    sag_diags_free(&diags);
}

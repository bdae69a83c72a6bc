/* The library in one page. Judge the motors of a list, and print four columns of what `sagband check -f csv` prints.

       cc -std=c11 example.c $(pkg-config --cflags --libs sagband) -o example
       ./example motors.csv 480               nominal volts, nothing known of the path
       ./example motors.csv supply.csv        volts behind the drops of the path

   Exit status: 0 all well, 1 a motor fails, 2 input refused or a computation that did not end. */
#include <gsl/gsl_errno.h>
#include <sagband/sagband.h>
#include <stdio.h>
#include <stdlib.h>

/* What a judgement rests on. Later members point into earlier ones, so all of them live until the end. */
struct plant {
    struct sag_tables *tables;     /* the built-in tables, which every stage asks */
    struct sag_supply supply;      /* rows of the supply file; count 0: volts are typed */
    struct sag_motor_list list;    /* rows of the motor list */
    struct sag_board *boards;      /* one a feeder: its volts in each case */
    struct sag_grid grid;          /* path and motors as circuits */
    struct sag_motor_volts *volts; /* one a motor, under load; NULL: each has its board's */
    struct sag_fit_store store;    /* circuits, kept so that equal plates are fitted once */
    struct sag_diags diags;        /* what is wrong with the input */
};

enum file_kind {
    MOTORS,
    SUPPLY
};

/* Read: rows to SI, nothing filled in. All faults of a file are found in one go. */
static enum sag_status read_file(struct plant *p, enum file_kind kind, const char *path)
{
    struct sag_input input = {.name = path, .file = fopen(path, "rb")};
    if (!input.file)
        return sag_complain(&p->diags, SAG_ERROR, &(struct sag_place){path, 0, 0}, "cannot be opened");
    const struct sag_supply *supply = p->supply.count ? &p->supply : NULL; /* its boards are the motors' feeders */
    enum sag_status status = kind == SUPPLY ? sag_read_supply(&input, p->tables, &p->supply, &p->diags)
                                            : sag_read_motors(&input, p->tables, supply, &p->list, &p->diags);
    fclose(input.file);
    return status;
}

/* Network: with a path, volts behind its drops take the place of those without current. */
static enum sag_status solve_path(struct plant *p)
{
    const struct sag_grid_job build = {
        .tables = p->tables, .supply = &p->supply, .boards = p->boards, .list = &p->list, .store = &p->store};
    const struct sag_volts_job solve = {
        .grid = &p->grid, .supply = &p->supply, .list = &p->list, .cases = {true, true, true, true}};
    enum sag_status status = sag_grid_build(&build, &p->grid);
    if (status != SAG_OK)
        return status;
    p->volts = calloc(p->list.count + 1, sizeof *p->volts);
    return p->volts ? sag_find_volts(&solve, p->boards, p->volts, NULL, &p->diags) : SAG_NO_MEMORY;
}

/* Judge: complete, fit and check. One motor at a time here; a whole list in one call is spread over threads. */
static enum sag_status judge(struct plant *p, bool *any_fails)
{
    const struct sag_plant plant = {.tables = p->tables,
                                    .list = &p->list,
                                    .boards = p->boards,
                                    .volts = p->volts,
                                    .cases = {true, true, true, true},
                                    .store = &p->store};
    puts("tag,case,volts_pct,verdict");
    for (size_t i = 0; i < p->list.count; i++) {
        struct sag_result result;
        enum sag_status status = sag_judge_motors(&plant, &i, 1, &result);
        if (status != SAG_OK)
            return status;
        for (int c = 0; c < SAG_CASE_COUNT; c++) {
            const struct sag_motor_case *in_case = &result.of[c];
            if (!in_case->present)
                continue;
            printf("%s,%s,%.1f,%s\n", p->list.plates[i].tag, sag_case_word((enum sag_case)c),
                   100 * in_case->terminals.volts_share, sag_verdict_word(in_case->verdict));
            *any_fails = *any_fails || in_case->verdict == SAG_VERDICT_FAIL;
        }
    }
    return SAG_OK;
}

/* Say what is wrong, in the order in which one mends it, and give all memory back. */
static void close_plant(struct plant *p)
{
    sag_diags_sort(&p->diags);
    for (size_t i = 0; i < p->diags.count; i++)
        fprintf(stderr, "%s:%u:%u: %s\n", p->diags.items[i].at.file, (unsigned)p->diags.items[i].at.line,
                (unsigned)p->diags.items[i].at.column, p->diags.items[i].text);
    free(p->volts);
    free(p->boards);
    sag_grid_free(&p->grid);
    sag_fit_store_free(&p->store);
    sag_motor_list_free(&p->list);
    sag_supply_free(&p->supply);
    sag_tables_free(p->tables);
    sag_diags_free(&p->diags);
}

int main(int argc, char **argv)
{
    struct plant p = {0};
    bool any_fails = false;
    if (argc != 3)
        return fputs("usage: example MOTORS.csv VOLTS|SUPPLY.csv\n", stderr), 2;
    char *end;
    const struct sag_typed_volts typed = {.line = {strtod(argv[2], &end)}, .count = 1};
    bool is_file = *end != '\0';

    gsl_set_error_handler_off(); /* a numerical corner becomes a status instead of the end of the process */
    enum sag_status status = sag_tables_open(&p.tables, &p.diags);
    if (status == SAG_OK && is_file)
        status = read_file(&p, SUPPLY, argv[2]);
    if (status == SAG_OK)
        status = read_file(&p, MOTORS, argv[1]);
    if (status == SAG_OK && !is_file)
        status = sag_check_typed_volts(&p.list, typed.line[0], &p.diags);
    if (status == SAG_OK)
        status = sag_find_boards(p.tables, is_file ? &p.supply : NULL, &typed, &p.list, &p.boards);
    if (status == SAG_OK && is_file)
        status = solve_path(&p);
    if (status == SAG_OK)
        status = judge(&p, &any_fails);
    close_plant(&p);
    if (status != SAG_OK)
        fprintf(stderr, "example: %s\n", sag_status_words(status));
    return status != SAG_OK ? 2 : any_fails;
}

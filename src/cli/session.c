#include "cli/session.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "write/escape.h"

enum {
    BATCH = 512 /* results of a batch live together: about 6 MB */
};

bool wants_colour(FILE *stream)
{
    const char *no_colour = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    return isatty(fileno(stream)) && !(no_colour && *no_colour) && terminal && strcmp(terminal, "dumb") != 0;
}

static void print_diag(const struct sag_diag *d)
{
    static const char *const words[] = {[SAG_NOTE] = "note: ", [SAG_WARNING] = "note: ", [SAG_ERROR] = ""};
    const char *file = d->at.file ? d->at.file : "sagband";
    bool typed = strncmp(file, "--", 2) == 0; /* a typed plate has no lines that anyone could look up */
    put_plain(stderr, file);
    if (d->at.line && !typed)
        fprintf(stderr, ":%u", d->at.line);
    if (d->at.column && !typed)
        fprintf(stderr, ":%u", d->at.column);
    fprintf(stderr, ": %s%s\n", words[d->severity], d->text);
}

void print_diags(struct sag_diags *diags, bool quiet)
{
    size_t shown = 0;
    sag_diags_sort(diags);
    for (size_t i = 0; i < diags->count; i++) {
        if (quiet && diags->items[i].severity != SAG_ERROR)
            continue;
        shown += diags->items[i].severity == SAG_ERROR;
        print_diag(&diags->items[i]);
    }
    if (diags->errors > shown)
        fprintf(stderr, "sagband: %zu more errors are not shown\n", diags->errors - shown);
}

/* Pipes and devices have nothing to compare. */
static void remember_face(struct session *s, const char *path, const struct stat *opened)
{
    if (S_ISREG(opened->st_mode) && s->face_count < SESSION_FILES)
        s->faces[s->face_count++] =
            (struct file_face){path, opened->st_dev, opened->st_ino, opened->st_size, opened->st_mtim};
}

static void add_to_sum(void *context, const void *piece, size_t size)
{
    struct file_sum *sum = context;
    SHA256Update(&sum->sum, piece, size);
    sum->bytes += size;
}

static void sum_up(struct session *s, const char *path, struct sag_input *input)
{
    if (!s->options->command->for_the_record || s->sum_count == SESSION_FILES)
        return;
    struct file_sum *sum = &s->sums[s->sum_count++];
    *sum = (struct file_sum){.path = path, .name = input->name};
    SHA256Init(&sum->sum);
    input->seen = add_to_sum;
    input->seen_context = sum;
}

enum sag_status session_open_file(struct session *s, const char *path, struct sag_input *input)
{
    *input = (struct sag_input){.name = path};
    if (strcmp(path, "-") == 0) {
        input->name = "standard input";
        input->file = stdin;
        sum_up(s, path, input);
        return SAG_OK;
    }
    struct stat there;
    input->file = fopen(path, "rb");
    bool known = input->file && fstat(fileno(input->file), &there) == 0;
    if (known && S_ISDIR(there.st_mode)) {
        fclose(input->file);
        input->file = NULL;
        errno = EISDIR;
    } else if (known) {
        remember_face(s, path, &there);
    }
    if (input->file) {
        sum_up(s, path, input);
        return SAG_OK;
    }
    if (errno == ENOMEM)
        return SAG_NO_MEMORY;
    return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){path, 0, 0}, "cannot be opened: %s", strerror(errno));
}

void session_close_file(struct sag_input *input)
{
    if (input->file && input->file != stdin)
        fclose(input->file);
}

static enum sag_status read_supply(struct session *s)
{
    struct sag_input input;
    if (!s->options->supply)
        return SAG_OK;
    enum sag_status status = session_open_file(s, s->options->supply, &input);
    if (status == SAG_OK)
        status = sag_read_supply(&input, s->tables, &s->supply, &s->diags);
    session_close_file(&input);
    s->has_supply = true;
    return status;
}

static enum sag_status read_motors(struct session *s, const char *motors, const struct sag_supply *supply)
{
    struct sag_input input;
    if (!motors && !s->options->plate) /* a log can do without */
        return SAG_OK;
    if (s->options->plate)
        return sag_read_plate(s->options->plate, s->tables, supply, &s->list, &s->diags);
    enum sag_status status = session_open_file(s, motors, &input);
    if (status == SAG_OK)
        status = sag_read_motors(&input, s->tables, supply, &s->list, &s->diags);
    session_close_file(&input);
    return status;
}

static enum sag_status read_curve(struct session *s, const char *path, struct sag_curve_point **points,
                                  struct sag_curve *curve)
{
    struct sag_input input;
    if (!path)
        return SAG_OK;
    enum sag_status status = session_open_file(s, path, &input);
    if (status == SAG_OK)
        status = sag_read_curve(&input, points, &curve->count, &s->diags);
    session_close_file(&input);
    curve->points = *points;
    return status;
}

static enum sag_status read_curves(struct session *s)
{
    enum sag_status first = read_curve(s, s->options->device_curve, &s->points[0], &s->device_curve);
    enum sag_status second = read_curve(s, s->options->relay_curve, &s->points[1], &s->relay_curve);
    return first != SAG_OK ? first : second;
}

static bool has_face(const struct file_face *face)
{
    struct stat now;
    return stat(face->path, &now) == 0 && now.st_dev == face->device && now.st_ino == face->number &&
           now.st_size == face->size && now.st_mtim.tv_sec == face->written.tv_sec &&
           now.st_mtim.tv_nsec == face->written.tv_nsec;
}

/* Looked at once all are read, so that they belong together too: a list is not taken with another day's supply. */
enum sag_status session_refuse_changed(struct session *s)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < s->face_count; i++)
        if (!has_face(&s->faces[i]))
            status = sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->faces[i].path, 0, 0},
                                  "changed while it was read; run again");
    return status;
}

static enum sag_status check_typed(struct session *s)
{
    const struct sag_typed_volts *typed = &s->typed;
    double volts = typed->count == 3 ? (typed->line[0] + typed->line[1] + typed->line[2]) / 3 : typed->line[0];
    return typed->count ? sag_check_typed_volts(&s->list, volts, &s->diags) : SAG_OK;
}

static enum sag_status build_grid(struct session *s, enum sag_corner corner, struct sag_grid *grid)
{
    const struct sag_grid_job job = {.tables = s->tables,
                                     .supply = s->has_supply ? &s->supply : NULL,
                                     .boards = s->boards,
                                     .list = &s->list,
                                     .store = &s->store,
                                     .corner = corner};
    return sag_grid_build(&job, grid);
}

enum sag_status session_build_grid(struct session *s)
{
    return s->grid.nodes ? SAG_OK : build_grid(s, SAG_CORNER_LIKELY, &s->grid);
}

enum sag_status session_build_corners(struct session *s, struct sag_grid grids[SAG_CORNER_COUNT])
{
    enum sag_status status = SAG_OK;
    for (int k = 0; k < SAG_CORNER_COUNT && status == SAG_OK; k++)
        status = build_grid(s, (enum sag_corner)k, &grids[k]);
    return status;
}

/* Volts under load in place of those without current. Typed volts are taken as those at the motors. */
static enum sag_status find_volts(struct session *s)
{
    if (!s->has_supply)
        return SAG_OK;
    enum sag_status status = session_build_grid(s);
    s->volts = calloc(s->list.count ? s->list.count : 1, sizeof *s->volts);
    s->reports = calloc(s->supply.count, sizeof *s->reports);
    if (status != SAG_OK || !s->volts || !s->reports)
        return status != SAG_OK ? status : SAG_NO_MEMORY;
    struct sag_volts_job job = {.grid = &s->grid, .supply = &s->supply, .list = &s->list};
    memcpy(job.cases, s->options->cases, sizeof job.cases);
    return sag_find_volts(&job, s->boards, s->volts, s->reports, &s->diags);
}

/* Those that --motor and --feeder leave. */
static enum sag_status choose_motors(struct session *s)
{
    const struct options *o = s->options;
    s->order = calloc(s->list.count, sizeof *s->order);
    if (!s->order)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < s->list.count; i++) {
        const struct sag_plate *p = &s->list.plates[i];
        bool wanted = o->command->of_boards;
        wanted = wanted || ((!o->motor || strcmp(p->tag, o->motor) == 0) &&
                            (!o->feeder || strcmp(s->list.feeders[p->feeder].id, o->feeder) == 0));
        if (wanted)
            s->order[s->order_count++] = i;
    }
    if (s->order_count)
        return SAG_OK;
    const char *name = o->motor ? o->motor : o->feeder ? o->feeder : "";
    struct sag_shown shown;
    return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, 0, 0},
                        "no motor is left by --%s \"%s\"", o->motor ? "motor" : "feeder",
                        sag_shown(&shown, name, strlen(name)));
}

/* --strict: what the plate does not say is an error where it counts. */
static enum sag_status refuse_assumed(struct session *s)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < s->order_count && s->options->strict; i++) {
        const struct sag_plate *p = &s->list.plates[s->order[i]];
        const struct sag_board *b = &s->boards[p->feeder];
        struct sag_connection connection = {b->volts_nominal, b->hz, b->neutral_share};
        struct sag_motor motor;
        sag_complete_motor(s->tables, p, &connection, &motor);
        uint64_t assumed = sag_assumed_inputs(&motor);
        if (s->options->command->starts)
            assumed |= sag_assumed_in_start(&motor);
        for (int f = 0; f < SAG_FACT_COUNT; f++)
            if (assumed >> f & 1 && sag_motor_column_of((enum sag_fact)f)) {
                struct sag_shown shown;
                status = sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, p->line, 0},
                                      "%s: not given for %s; --strict accepts no assumed input",
                                      sag_motor_column_of((enum sag_fact)f), sag_shown(&shown, p->tag, strlen(p->tag)));
            }
        struct sag_shown shown;
        if (s->options->command->starts && sag_starter_of(s->tables, p).assumed)
            status = sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, p->line, 0},
                                  "start_setting: its starter's settings are not given for %s; --strict accepts no "
                                  "assumed input",
                                  sag_shown(&shown, p->tag, strlen(p->tag)));
    }
    return status;
}

/* --strict: volts behind drops rest on the path, of the boards on every way. */
static enum sag_status refuse_assumed_path(struct session *s)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; s->has_supply && i < s->supply.count && s->options->strict; i++) {
        const struct sag_node *n = &s->supply.nodes[i];
        const char *column;
        for (size_t k = 0; (column = sag_assumed_in_path(n, k)); k++) {
            struct sag_shown shown;
            status = sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->supply.file, n->line, 0},
                                  "%s: not given for %s; --strict accepts no assumed input", column,
                                  sag_shown(&shown, n->id, strlen(n->id)));
        }
    }
    return status;
}

static enum sag_status check_cases(struct session *s)
{
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_board *b = &s->boards[s->list.plates[s->order[i]].feeder];
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            if (s->options->cases[c] && sag_known(&b->of[c].volts))
                return SAG_OK;
    }
    return session_usage(
        s, "no such case here: three --volts, or measured volts in the supply file, make the measured case; "
           "a nominal voltage makes the others");
}

enum sag_status session_open(struct session *s, const struct options *options, const char *motors)
{
    *s = (struct session){.options = options, .motors = motors, .typed = options->typed};
    enum sag_status status = session_check_usage(s, motors);
    if (status == SAG_OK)
        status = sag_tables_open(&s->tables, &s->diags);
    if (status == SAG_OK) {
        status = read_supply(s);
        /* the motor list is read even when the supply is refused, so that all faults show in one run; its feeders are
           then left unchecked */
        const struct sag_supply *supply = s->has_supply && status == SAG_OK ? &s->supply : NULL;
        enum sag_status second = status == SAG_NO_MEMORY ? status : read_motors(s, motors, supply);
        status = status == SAG_OK ? second : status;
        /* rows that were taken are looked at even when others were refused */
        enum sag_status log = status == SAG_NO_MEMORY ? status : session_read_measured(s);
        status = status == SAG_OK ? log : status;
        enum sag_status third = status == SAG_NO_MEMORY ? status : check_typed(s);
        status = status == SAG_OK ? third : status;
        enum sag_status fourth = status == SAG_NO_MEMORY ? status : read_curves(s);
        status = status == SAG_OK ? fourth : status;
        enum sag_status fifth = status == SAG_NO_MEMORY ? status : session_refuse_changed(s);
        status = status == SAG_OK ? fifth : status;
    }
    if (options->command->of_log) /* its volts come with the log */
        return status;
    if (status == SAG_OK)
        status = sag_find_boards(s->tables, s->has_supply ? &s->supply : NULL, &s->typed, &s->list, &s->boards);
    if (status == SAG_OK)
        session_put_log(s);
    if (status == SAG_OK)
        status = choose_motors(s);
    if (status == SAG_OK)
        status = check_cases(s);
    if (status == SAG_OK) {
        enum sag_status of_path = refuse_assumed_path(s); /* all faults show in one run */
        status = refuse_assumed(s);
        status = status == SAG_OK ? of_path : status;
    }
    if (status == SAG_OK)
        status = find_volts(s);
    s->plant = (struct sag_plant){
        .tables = s->tables, .list = &s->list, .boards = s->boards, .volts = s->volts, .store = &s->store};
    memcpy(s->plant.cases, options->cases, sizeof s->plant.cases);
    return status;
}

enum sag_status session_size(struct session *s, struct sag_plant_size *size)
{
    const struct sag_size_job job = {.tables = s->tables,
                                     .supply = s->has_supply ? &s->supply : NULL,
                                     .boards = s->boards,
                                     .list = &s->list,
                                     .device = s->options->device,
                                     .insulation_c = s->options->insulation_c,
                                     .terminal_c = s->options->terminal_c};
    return sag_size_plant(&job, size);
}

enum sag_status session_find_taps(struct session *s, struct sag_tap_advice *advice)
{
    const size_t most_work = 100000; /* motors times transformers */
    const struct options *o = s->options;
    size_t transformers = 0;
    *advice = (struct sag_tap_advice){0};
    for (size_t i = 0; i < s->grid.node_count; i++)
        transformers += s->grid.nodes[i].kind == SAG_NODE_TRANSFORMER;
    bool whole = o->cases[SAG_CASE_NOMINAL] && o->cases[SAG_CASE_LOW] && o->cases[SAG_CASE_HIGH];
    if (!s->has_supply || !whole || o->feeder || o->motor || transformers * s->list.count > most_work)
        return SAG_OK;
    return sag_advise_taps(&s->plant, &s->grid, &s->supply, advice);
}

enum sag_status session_judge_boards(struct session *s)
{
    if (!s->has_supply)
        return SAG_OK;
    s->board_results = calloc(s->supply.count, sizeof *s->board_results);
    if (!s->board_results)
        return SAG_NO_MEMORY;
    sag_judge_boards(&s->plant, &s->grid, s->reports, s->board_results);
    return SAG_OK;
}

enum sag_status session_group_by_feeder(struct session *s)
{
    /* a counting sort keeps the file's order within a feeder */
    size_t *starts = calloc(s->list.feeder_count + 1, sizeof *starts);
    size_t *sorted = calloc(s->order_count, sizeof *sorted);
    if (starts && sorted) {
        for (size_t i = 0; i < s->order_count; i++)
            starts[s->list.plates[s->order[i]].feeder + 1]++;
        for (size_t f = 0; f < s->list.feeder_count; f++)
            starts[f + 1] += starts[f];
        for (size_t i = 0; i < s->order_count; i++)
            sorted[starts[s->list.plates[s->order[i]].feeder]++] = s->order[i];
        memcpy(s->order, sorted, s->order_count * sizeof *sorted);
    }
    enum sag_status status = starts && sorted ? SAG_OK : SAG_NO_MEMORY;
    free(starts);
    free(sorted);
    return status;
}

enum sag_status session_each(struct session *s, session_result_fn *take, void *context)
{
    size_t room = s->order_count < BATCH ? s->order_count : BATCH;
    struct sag_result *results = calloc(room, sizeof *results);
    enum sag_status status = results ? SAG_OK : SAG_NO_MEMORY;
    for (size_t start = 0; start < s->order_count && status == SAG_OK; start += BATCH) {
        size_t count = s->order_count - start < BATCH ? s->order_count - start : BATCH;
        status = sag_judge_motors(&s->plant, s->order + start, count, results);
        for (size_t i = 0; i < count && status == SAG_OK; i++)
            status = take(s, &results[i], context);
    }
    free(results);
    return status;
}

enum sag_status session_finding_rows(struct session *s, const struct sag_result *r, const struct sag_writer *writer,
                                     struct sag_sheet *sheet)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->finding_count && status == SAG_OK; i++) {
        sag_finding_row(&s->list, &r->findings[i], values);
        status = writer->row(sheet, values);
    }
    return status == SAG_OK && ferror(sheet->stream) ? SAG_IO : status;
}

void session_count(struct session *s, const struct sag_result *result)
{
    s->counts[result->worst]++;
    s->not_judged += !result->judged;
}

static void print_closing_line(const struct session *s)
{
    size_t all = 0;
    const char *what = s->counted ? s->counted : s->options->command->counted;
    for (int i = 0; i < SAG_VERDICT_COUNT; i++)
        all += s->counts[i];
    if (all)
        fprintf(stderr, "sagband: %zu %s%s: %zu ok, %zu watch, %zu fail, %zu unknown\n", all, what, all == 1 ? "" : "s",
                s->counts[SAG_VERDICT_OK], s->counts[SAG_VERDICT_WATCH], s->counts[SAG_VERDICT_FAIL],
                s->counts[SAG_VERDICT_UNKNOWN]);
    if (s->not_judged)
        fprintf(stderr,
                "sagband: %zu of the unknown were not judged: no volts are known at their feeder in that case\n",
                s->not_judged);
}

enum exit_status session_close(struct session *s, enum sag_status status)
{
    enum exit_status result = EXIT_ALL_WELL;
    print_diags(&s->diags, s->options->quiet);
    if (status == SAG_OK) {
        if (!s->options->quiet)
            print_closing_line(s);
        result = s->counts[SAG_VERDICT_FAIL] || s->any_fail ? EXIT_A_FAIL : EXIT_ALL_WELL;
    } else if (status == SAG_BAD_INPUT || status == SAG_BAD_USAGE) {
        result = EXIT_REFUSED;
    } else {
        if (status != SAG_IO)
            fprintf(stderr, "sagband: %s\n", sag_status_words(status));
        result = EXIT_NOT_WRITTEN;
    }
    free(s->order);
    free(s->boards);
    free(s->volts);
    free(s->reports);
    free(s->board_results);
    free(s->points[0]);
    free(s->points[1]);
    free_measured(s);
    sag_grid_free(&s->grid);
    sag_fit_store_free(&s->store);
    sag_motor_list_free(&s->list);
    sag_supply_free(&s->supply);
    sag_tables_free(s->tables);
    sag_diags_free(&s->diags);
    return result;
}

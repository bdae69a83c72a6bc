/* report: one page with everything, its tables and scripts beside it. Feeders are judged, written and forgotten one
   after the other; the page, which begins with what came out of all of them, is put together at the end. */
#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/batch.h"
#include "base/number.h"
#include "cli/drawing.h"
#include "cli/progress.h"
#include "cli/schedule.h"
#include "write/escape.h"

enum {
    MOST_RUNS = 300,  /* motors up to which every start is run: each run turns all the others as well */
    MOST_ADVICE = 10, /* failing starts that changes are tried for */
    PATH_ROOM = 4096,
    PAPER_TALL = 1250 /* pixels beside a width of 1000: what a sheet of paper shows with its caption */
};

/* The tables beside the page. ORDER REPORT_TABLE */
enum report_table {
    TABLE_CHECK,
    TABLE_START,
    TABLE_PROTECT,
    TABLE_FINDINGS,
    TABLE_SUPPLY, /* with a supply file only, so it stands last */
    REPORT_TABLES
};
static const struct {
    const char *name;
    const struct sag_view *view;
} tables[] = {{"check.csv", &sag_check_view},
              {"start.csv", &sag_start_view},
              {"protect.csv", &sag_protect_view},
              {"findings.csv", &sag_finding_view},
              {"supply.csv", &sag_supply_view}};
_Static_assert(sizeof tables / sizeof *tables == REPORT_TABLES, "ORDER REPORT_TABLE");

struct reporting {
    struct schedule plan;
    struct sag_report_notes notes;
    struct sag_advice_list advice;
    struct sag_tap_advice taps;
    bool *left_out; /* one a motor of the list: its start is not run */
    size_t starts_run, advised;
    struct sag_out *page, *outs[REPORT_TABLES];
    struct sag_sheet sheets[REPORT_TABLES];
    const struct sag_writer *writer;
    FILE *sections;
    struct sag_file_list scripts;
    char no_picture[200]; /* why there are none; "" */
    double since;
    /* of the feeder at work */
    uint32_t feeder;
    size_t first, count;
    struct sag_result *results;
    struct sag_start_result *starts;
    size_t start_count;
    struct sag_branch_result *branches;
    struct sag_kept_runs kept;
};

static const char *folder_of(const struct session *s)
{
    return s->options->output ? s->options->output : ".";
}

/* --- which starts are run ---------------------------------------------------------------------------------------- */

struct weight {
    double watts; /* rated; INFINITY: in any case */
    size_t motor;
};

static int by_weight(const void *left, const void *right)
{
    const struct weight *a = left, *b = right;
    if (a->watts != b->watts)
        return a->watts > b->watts ? -1 : 1;
    return a->motor < b->motor ? -1 : a->motor > b->motor;
}

/* A run costs as much as the list is long, so the work that is allowed falls with it. */
static size_t most_starts(const struct session *s)
{
    size_t all = s->list.count, most = (size_t)MOST_RUNS * MOST_RUNS / (all ? all : 1);
    if (s->options->most_starts)
        most = s->options->most_starts;
    return most > s->order_count ? s->order_count : most ? most : 1;
}

/* Fire pumps, then the largest: their starts take most from the supply. */
static enum sag_status choose_starts(struct session *s, struct reporting *r)
{
    struct weight *weights = calloc(s->order_count, sizeof *weights);
    r->left_out = calloc(s->list.count, sizeof *r->left_out);
    r->starts_run = most_starts(s);
    if (!weights || !r->left_out) {
        free(weights);
        return SAG_NO_MEMORY;
    }
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_plate *p = &s->list.plates[s->order[i]];
        bool fire = p->choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP;
        weights[i] = (struct weight){fire ? INFINITY : p->given[SAG_RATED_POWER], s->order[i]};
    }
    qsort(weights, s->order_count, sizeof *weights, by_weight);
    for (size_t i = r->starts_run; i < s->order_count; i++)
        r->left_out[weights[i].motor] = true;
    free(weights);
    return SAG_OK;
}

/* --- files ------------------------------------------------------------------------------------------------------- */

static enum sag_status open_out(struct session *s, const char *name, struct sag_out **out)
{
    const char *folder = folder_of(s);
    char path[PATH_ROOM];
    struct sag_shown shown;
    if (snprintf(path, sizeof path, "%s/%s", folder, name) >= (int)sizeof path) {
        sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "--output %s: too long for a folder's name",
                     sag_shown(&shown, folder, strlen(folder)));
        return SAG_IO;
    }
    if (session_is_input(s, path)) {
        sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "%s: is an input; it would be overwritten",
                     sag_shown(&shown, path, strlen(path)));
        return SAG_IO;
    }
    return sag_out_open(out, path, s->options->force, &s->diags);
}

/* The sections wait in a file without a name; the outs tell of themselves, this one is told of here. */
static enum sag_status tell_lost_sections(struct session *s)
{
    sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "temporary file of the page's sections: %s",
                 strerror(errno));
    return SAG_IO;
}

/* Nothing is put in place before all is written, so an old report stays whole until then. */
static enum sag_status open_outs(struct session *s, struct reporting *r)
{
    enum sag_status status = sag_out_folder(folder_of(s), &s->diags);
    r->writer = sag_writer_find("csv");
    for (int i = 0; i < (s->has_supply ? REPORT_TABLES : TABLE_SUPPLY) && status == SAG_OK; i++) {
        status = open_out(s, tables[i].name, &r->outs[i]);
        if (status != SAG_OK)
            break;
        r->sheets[i] = (struct sag_sheet){.stream = sag_out_stream(r->outs[i]), .view = tables[i].view};
        r->writer->begin(&r->sheets[i], NULL);
    }
    if (status == SAG_OK)
        status = open_out(s, "index.html", &r->page);
    if (status == SAG_OK && !(r->sections = tmpfile()))
        status = tell_lost_sections(s);
    return status;
}

/* The page last: whoever finds it finds the rest too. */
static enum sag_status close_outs(struct session *s, struct reporting *r, enum sag_status status)
{
    if (r->sections)
        fclose(r->sections);
    for (int i = 0; i < REPORT_TABLES; i++)
        if (r->outs[i])
            status = sag_out_close(r->outs[i], status, &s->diags);
    return r->page ? sag_out_close(r->page, status, &s->diags) : status;
}

static enum sag_status put_row(struct reporting *r, enum report_table table, const struct sag_value *values)
{
    enum sag_status status = r->writer->row(&r->sheets[table], values);
    return status == SAG_OK && ferror(r->sheets[table].stream) ? SAG_IO : status;
}

static enum sag_status put_findings(struct session *s, struct reporting *r, const struct sag_finding *findings,
                                    size_t count)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < count && status == SAG_OK; i++) {
        sag_finding_row(&s->list, &findings[i], values);
        status = put_row(r, TABLE_FINDINGS, values);
    }
    return status;
}

/* --- one feeder -------------------------------------------------------------------------------------------------- */

static enum sag_status write_checks(struct session *s, struct reporting *r)
{
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->count && status == SAG_OK; i++) {
        const struct sag_result *result = &r->results[i];
        status = sag_note_check(&r->notes, result);
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (result->of[c].present) {
                sag_check_row(&s->list, result, (enum sag_case)c, &text, values);
                status = put_row(r, TABLE_CHECK, values);
            }
        if (status == SAG_OK)
            status = put_findings(s, r, result->findings, result->finding_count);
    }
    return status;
}

static enum sag_status write_starts(struct session *s, struct reporting *r)
{
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->start_count && status == SAG_OK; i++) {
        const struct sag_start_result *result = &r->starts[i];
        status = sag_note_start(&r->notes, result);
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (result->of[c].present) {
                sag_start_row(&s->plant, result, (enum sag_case)c, &text, values);
                status = put_row(r, TABLE_START, values);
            }
        if (status == SAG_OK)
            status = put_findings(s, r, result->findings, result->finding_count);
    }
    return status;
}

static enum sag_status write_branches(struct session *s, struct reporting *r)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->count && status == SAG_OK; i++) {
        const struct sag_branch_result *result = &r->branches[i];
        status = sag_note_branch(&r->notes, result);
        sag_branch_row(&r->plan.table, result, &text, values);
        if (status == SAG_OK)
            status = put_row(r, TABLE_PROTECT, values);
        if (status == SAG_OK)
            status = put_findings(s, r, result->findings, result->finding_count);
    }
    return status;
}

/* The failing starts of a feeder, each with what helps it. */
struct advising {
    const struct sag_start_plan *plan;
    const struct sag_supply *supply;
    const struct sag_start_result *failing[MOST_ADVICE];
    struct sag_advice_list lists[MOST_ADVICE];
    enum sag_status status[MOST_ADVICE];
    size_t count;
};

static void advise_one(void *context, size_t i)
{
    struct advising *a = context;
    a->status[i] = sag_advise_start(a->plan, a->supply, a->failing[i], &a->lists[i]);
}

static enum sag_status advise(struct session *s, struct reporting *r, const struct sag_start_plan *plan)
{
    struct advising a = {.plan = plan, .supply = s->has_supply ? &s->supply : NULL};
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->start_count && s->list.count <= MOST_RUNS; i++)
        if (r->starts[i].judged && r->starts[i].worst == SAG_VERDICT_FAIL && r->advised < MOST_ADVICE) {
            a.failing[a.count++] = &r->starts[i];
            r->advised++;
        }
    sag_batch_run(advise_one, &a, a.count);
    for (size_t i = 0; i < a.count; i++) {
        status = status == SAG_OK ? a.status[i] : status;
        if (status == SAG_OK)
            status = sag_advice_join(&r->advice, &a.lists[i]);
        sag_advice_free(&a.lists[i]);
    }
    return status;
}

/* Those of the feeder that are run. */
static enum sag_status run_starts(struct session *s, struct reporting *r)
{
    size_t *motors = calloc(r->count, sizeof *motors);
    struct sag_start_plan plan = {.plant = &s->plant, .grids = r->plan.grids, .motors = motors, .kept = &r->kept};
    if (!motors)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < r->count; i++)
        if (!r->left_out[s->order[r->first + i]])
            motors[plan.count++] = s->order[r->first + i];
    enum sag_status status = plan.count ? sag_judge_starts(&plan, r->starts) : SAG_OK;
    r->start_count = plan.count;
    if (status == SAG_OK)
        status = advise(s, r, &plan);
    free(motors);
    return status;
}

static struct sag_plot_job plot_job(struct session *s, const struct reporting *r, struct sag_kept_runs *kept)
{
    bool all_run = r->starts_run == s->order_count;
    return (struct sag_plot_job){
        .plant = &s->plant,
        .results = r->results,
        .count = r->count,
        .feeder = r->feeder,
        .supply = s->has_supply ? &s->supply : NULL,
        .reports = s->reports,
        .grids = all_run ? r->plan.grids : NULL,
        .kept = kept,
        .device_curve = s->device_curve,
        .relay_curve = s->relay_curve,
        .size = &r->plan.size,
        .folder = folder_of(s),
        .picture = "svg",
        .most_tall = PAPER_TALL,
        .inputs = {s->options->words[0], s->options->supply, s->options->device_curve, s->options->relay_curve,
                   session_measured_path(s)},
        .force = s->options->force,
        .draws = !s->options->no_pictures,
    };
}

/* One that cannot be drawn is missing, and the page says so; the numbers do not wait for it. */
static void draw(struct session *s, struct reporting *r, const char *script)
{
    int why = 0;
    struct sag_shown shown;
    if (*r->no_picture)
        return;
    switch (draw_script(script, "svg", &why)) {
    case DRAWN:
        return;
    case NO_GNUPLOT:
        snprintf(r->no_picture, sizeof r->no_picture,
                 "gnuplot cannot be started (%s). The scripts are beside this page.", strerror(why));
        break;
    default:
        snprintf(r->no_picture, sizeof r->no_picture, "gnuplot could not draw %s. The scripts are beside this page.",
                 sag_shown(&shown, script, strlen(script)));
    }
    sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){0}, "no pictures in the report: %s", r->no_picture);
}

static void free_paths(char **paths, size_t count)
{
    for (size_t i = 0; i < count; i++)
        free(paths[i]);
    free(paths);
}

/* Pictures that were drawn of the scripts from `first` on; the caller frees them. */
static char **find_pictures(const struct reporting *r, size_t first, size_t *count)
{
    char **paths = calloc(r->scripts.count - first + 1, sizeof *paths);
    *count = 0;
    for (size_t i = first; paths && i < r->scripts.count; i++) {
        paths[*count] = picture_path(r->scripts.names[i], "svg");
        *count += paths[*count] != NULL;
    }
    return paths;
}

static size_t circuit_of(const struct session *s, const struct reporting *r)
{
    for (size_t i = 0; i < r->plan.size.feeder_count; i++)
        if (r->plan.size.feeders[i].feeder == r->feeder && schedule_shows_feeder(s, &r->plan, i))
            return i;
    return SIZE_MAX;
}

static enum sag_status tell_unfit_picture(struct session *s, const struct reporting *r)
{
    const char *id = s->list.feeders[r->feeder].id;
    struct sag_shown shown;
    sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0},
                 "a picture of feeder %s cannot be put into the page; --no-pictures leaves them out",
                 sag_shown(&shown, id, strlen(id)));
    return SAG_IO;
}

static enum sag_status write_section(struct session *s, struct reporting *r, size_t first_script)
{
    size_t count = 0;
    char **paths = find_pictures(r, first_script, &count);
    if (!paths)
        return SAG_NO_MEMORY;
    const bool drawn = !s->options->no_pictures && !*r->no_picture;
    const struct sag_report_feeder section = {.plant = &s->plant,
                                              .supply = s->has_supply ? &s->supply : NULL,
                                              .feeder = r->feeder,
                                              .results = r->results,
                                              .count = r->count,
                                              .starts = r->starts,
                                              .start_count = r->start_count,
                                              .branches = r->branches,
                                              .schedule = &r->plan.table,
                                              .circuit = circuit_of(s, r),
                                              .pictures = (const char *const *)paths,
                                              .picture_count = drawn ? count : 0};
    enum sag_status status = sag_write_report_feeder(r->sections, &section);
    free_paths(paths, count);
    if (status == SAG_IO)
        return ferror(r->sections) ? tell_lost_sections(s) : tell_unfit_picture(s, r);
    return status;
}

static enum sag_status judge_feeder(struct session *s, struct reporting *r)
{
    enum sag_status status = sag_judge_motors(&s->plant, s->order + r->first, r->count, r->results);
    if (status == SAG_OK)
        status = run_starts(s, r);
    if (status == SAG_OK)
        status = sag_judge_branches(&r->plan.job, s->order + r->first, r->count, r->branches);
    return status;
}

static enum sag_status write_feeder(struct session *s, struct reporting *r)
{
    const struct sag_plot_job job = plot_job(s, r, &r->kept);
    size_t first_script = r->scripts.count;
    enum sag_status status = write_checks(s, r);
    if (status == SAG_OK)
        status = write_starts(s, r);
    if (status == SAG_OK)
        status = write_branches(s, r);
    if (status == SAG_OK)
        status = sag_plot_feeder(&job, &r->scripts, &s->diags);
    for (size_t i = first_script; i < r->scripts.count && status == SAG_OK && !s->options->no_pictures; i++)
        draw(s, r, r->scripts.names[i]);
    return status == SAG_OK ? write_section(s, r, first_script) : status;
}

static enum sag_status make_room(const struct session *s, struct reporting *r)
{
    size_t most = 1;
    for (size_t f = 0; f < s->list.feeder_count; f++) {
        size_t count = r->plan.first[f + 1] - r->plan.first[f];
        most = count > most ? count : most;
    }
    r->results = calloc(most, sizeof *r->results);
    r->starts = calloc(most, sizeof *r->starts);
    r->branches = calloc(most, sizeof *r->branches);
    return r->results && r->starts && r->branches ? SAG_OK : SAG_NO_MEMORY;
}

/* What is empty has nothing in the way. */
static bool is_empty(const char *folder)
{
    DIR *d = opendir(folder);
    bool empty = d != NULL;
    for (const struct dirent *entry; empty && (entry = readdir(d));)
        empty = entry->d_name[0] == '.';
    if (d)
        closedir(d);
    return empty;
}

/* Is a script, or a picture that is drawn, in the way? Before anything is computed. */
static enum sag_status look_at_feeder(struct session *s, struct reporting *r)
{
    struct sag_plot_job job = plot_job(s, r, &r->kept);
    enum sag_status status = sag_judge_motors(&s->plant, s->order + r->first, r->count, r->results);
    job.only_look = true;
    return status == SAG_OK ? sag_plot_feeder(&job, &r->scripts, &s->diags) : status;
}

static enum sag_status each_feeder(struct session *s, struct reporting *r,
                                   enum sag_status (*work)(struct session *, struct reporting *))
{
    enum sag_status status = SAG_OK;
    for (uint32_t f = 0; f < s->list.feeder_count && status == SAG_OK; f++) {
        r->feeder = f;
        r->first = r->plan.first[f];
        r->count = r->plan.first[f + 1] - r->first;
        if (r->count == 0)
            continue;
        /* looking for files runs starts as well, but a plant's worth of runs is too much to keep */
        status = sag_kept_init(&r->kept, s->order + r->first, r->count);
        r->plan.job.kept = &r->kept;
        if (status == SAG_OK)
            status = work(s, r);
        sag_kept_free(&r->kept);
    }
    return status;
}

static enum sag_status do_feeder(struct session *s, struct reporting *r)
{
    enum sag_status status = judge_feeder(s, r);
    if (status == SAG_OK)
        status = write_feeder(s, r);
    show_progress(s, r->since, r->first + r->count, s->order_count);
    return status;
}

/* --- the whole plant --------------------------------------------------------------------------------------------- */

static enum sag_status write_boards(struct session *s, struct reporting *r)
{
    const struct sag_board_table table = {&s->supply, s->reports, s->board_results};
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; s->has_supply && i < s->supply.count && status == SAG_OK; i++) {
        const struct sag_board_result *b = &s->board_results[i];
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (b->present[c]) {
                sag_supply_row(&table, i, (enum sag_case)c, &text, values);
                status = put_row(r, TABLE_SUPPLY, values);
            }
        if (status == SAG_OK)
            status = sag_note_findings(&r->notes, SAG_PART_SUPPLY, b->findings, b->finding_count);
        if (status == SAG_OK)
            status = put_findings(s, r, b->findings, b->finding_count);
    }
    return status;
}

static enum sag_status note_circuit(struct session *s, struct reporting *r, const struct sag_circuit_result *c)
{
    enum sag_status status = sag_note_findings(&r->notes, SAG_PART_PROTECT, c->findings, c->finding_count);
    return status == SAG_OK ? put_findings(s, r, c->findings, c->finding_count) : status;
}

static enum sag_status write_circuit(struct session *s, struct reporting *r, size_t i)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    if (schedule_shows_transformer(&r->plan, i)) {
        for (int w = 0; w < SAG_WINDINGS && status == SAG_OK; w++) {
            sag_transformer_row(&r->plan.table, i, (enum sag_winding)w, &text, values);
            status = put_row(r, TABLE_PROTECT, values);
        }
        if (status == SAG_OK)
            status = note_circuit(s, r, &r->plan.transformers[i]);
    }
    if (status != SAG_OK || !r->plan.shown[i])
        return status;
    if (schedule_shows_feeder(s, &r->plan, i)) {
        sag_feeder_row(&r->plan.table, i, &text, values);
        status = put_row(r, TABLE_PROTECT, values);
    }
    return status == SAG_OK ? note_circuit(s, r, &r->plan.feeders[i]) : status;
}

static enum sag_status write_circuits(struct session *s, struct reporting *r)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->plan.size.feeder_count && status == SAG_OK; i++)
        status = write_circuit(s, r, i);
    return status;
}

/* SOURCE_DATE_EPOCH, where it is set, makes two runs give the same bytes. */
static void put_date(char *out, size_t room)
{
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    double seconds = 0;
    time_t now = time(NULL);
    struct tm utc;
    if (epoch && sag_number_read(epoch, strlen(epoch), '.', &seconds) == SAG_NUMBER_OK && seconds >= 0 &&
        seconds < 1e11)
        now = (time_t)seconds;
    if (gmtime_r(&now, &utc))
        snprintf(out, room, "%04d-%02d-%02d %02d:%02d UTC", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday,
                 utc.tm_hour, utc.tm_min);
}

static const char *role_of(const struct session *s, const char *path)
{
    const struct options *o = s->options;
    const char *log = session_measured_path(s);
    return o->supply && strcmp(path, o->supply) == 0               ? "supply path"
           : o->device_curve && strcmp(path, o->device_curve) == 0 ? "curve of the device"
           : o->relay_curve && strcmp(path, o->relay_curve) == 0   ? "curve of the relay"
           : log && strcmp(path, log) == 0                         ? "log of measured volts"
                                                                   : "motor list";
}

static size_t put_inputs(struct session *s, struct sag_report_input *inputs, char sums[][SHA256_DIGEST_STRING_LENGTH])
{
    for (size_t i = 0; i < s->sum_count; i++) {
        struct file_sum *sum = &s->sums[i];
        SHA256End(&sum->sum, sums[i]);
        inputs[i] = (struct sag_report_input){role_of(s, sum->path), sum->name, sums[i], sum->bytes};
    }
    return s->sum_count;
}

/* The words that the program was called with. */
static void print_call(const struct session *s, FILE *f)
{
    fputs("sagband", f);
    for (int i = 1; i < s->options->argument_count; i++)
        fprintf(f, " %s", s->options->arguments[i]);
}

/* What is printed, as a text; the caller frees it. NULL: out of memory. */
static char *text_of(const struct session *s, void (*print)(const struct session *, FILE *))
{
    char *text = NULL;
    size_t size = 0;
    FILE *f = open_memstream(&text, &size);
    if (!f)
        return NULL;
    print(s, f);
    if (fclose(f) == 0)
        return text;
    free(text);
    return NULL;
}

static enum sag_status write_page(struct session *s, struct reporting *r)
{
    struct sag_report_input inputs[SESSION_FILES];
    char sums[SESSION_FILES][SHA256_DIGEST_STRING_LENGTH], date[40] = "";
    char *basis = text_of(s, print_volts_basis), *call = text_of(s, print_call);
    put_date(date, sizeof date);
    const struct sag_report_job job = {
        .plant = &s->plant,
        .supply = s->has_supply ? &s->supply : NULL,
        .reports = s->reports,
        .board_results = s->board_results,
        .grid = &s->grid,
        .schedule = &r->plan.table,
        .circuit_shown = r->plan.shown,
        .clauses = schedule_clauses(s, &r->plan),
        .notes = &r->notes,
        .taps = &r->taps,
        .advice = &r->advice,
        .inputs = inputs,
        .input_count = put_inputs(s, inputs, sums),
        .basis = basis,
        .version = SAG_VERSION,
        .date = date,
        .title = s->options->title,
        .call = call,
        .no_picture = s->options->no_pictures ? "they were not asked for. The scripts are beside this page."
                      : *r->no_picture        ? r->no_picture
                                              : NULL,
        .starts_run = r->starts_run,
        .starts_all = s->order_count,
        .feeders = r->sections,
    };
    enum sag_status status = basis && call ? sag_write_report(sag_out_stream(r->page), &job) : SAG_NO_MEMORY;
    free(basis);
    free(call);
    if (status == SAG_IO && !ferror(sag_out_stream(r->page)))
        return tell_lost_sections(s);
    return status;
}

/* The worst of a motor's verdicts. Without volts it is unknown, as for `check`, whatever its circuit is. */
static enum sag_verdict worst_of(const struct sag_motor_note *note)
{
    bool judged = note->verdict[SAG_PART_CHECK] < SAG_VERDICT_COUNT;
    enum sag_verdict worst = judged ? SAG_VERDICT_OK : SAG_VERDICT_UNKNOWN;
    for (int part = 0; part < SAG_REPORT_PARTS; part++) {
        uint8_t verdict = note->verdict[part];
        if (verdict < SAG_VERDICT_COUNT && verdict > worst)
            worst = (enum sag_verdict)verdict;
    }
    return worst;
}

/* Motors by their worst; a board or a feeder that fails counts for the exit status too. */
static void count_verdicts(struct session *s, const struct reporting *r)
{
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_motor_note *note = &r->notes.motors[s->order[i]];
        enum sag_verdict worst = worst_of(note);
        s->counts[worst]++;
        s->not_judged += worst == SAG_VERDICT_UNKNOWN && note->verdict[SAG_PART_CHECK] == SAG_VERDICT_COUNT;
    }
    for (int part = 0; part < SAG_REPORT_PARTS; part++)
        for (size_t i = 0; i < r->notes.findings[part].count; i++)
            s->any_fail = s->any_fail || r->notes.findings[part].items[i].verdict == SAG_VERDICT_FAIL;
}

static enum sag_status run(struct session *s, struct reporting *r)
{
    enum sag_status status = sag_notes_init(&r->notes, s->list.count);
    r->since = seconds_now();
    if (status == SAG_OK)
        status = session_judge_boards(s);
    if (status == SAG_OK)
        status = schedule_open(s, &r->plan);
    if (status == SAG_OK)
        status = choose_starts(s, r);
    if (status == SAG_OK)
        status = make_room(s, r);
    r->plan.job.left_out = r->left_out;
    if (status == SAG_OK)
        status = open_outs(s, r);
    if (status == SAG_OK && !s->options->force && !is_empty(folder_of(s)))
        status = each_feeder(s, r, look_at_feeder);
    if (status == SAG_OK)
        status = each_feeder(s, r, do_feeder);
    if (status == SAG_OK)
        status = write_boards(s, r);
    if (status == SAG_OK)
        status = write_circuits(s, r);
    if (status == SAG_OK)
        status = session_find_taps(s, &r->taps);
    if (status == SAG_OK)
        status = write_page(s, r);
    if (status == SAG_OK)
        count_verdicts(s, r);
    return status;
}

static void release(struct reporting *r)
{
    schedule_free(&r->plan);
    sag_notes_free(&r->notes);
    sag_advice_free(&r->advice);
    sag_tap_advice_free(&r->taps);
    sag_file_list_free(&r->scripts);
    free(r->left_out);
    free(r->results);
    free(r->starts);
    free(r->branches);
}

enum exit_status cmd_report(const struct options *options)
{
    struct session s;
    struct reporting r = {0};
    enum sag_status status = session_open(&s, options, options->words[0]);
    if (status == SAG_OK)
        status = close_outs(&s, &r, run(&s, &r));
    if (status == SAG_OK && !options->quiet)
        printf("%s/index.html\n", folder_of(&s));
    release(&r);
    return session_close(&s, status);
}

/* report: one page with everything, its tables and scripts beside it. Feeders are judged, written and forgotten one
   after the other; the page, which begins with what came out of all of them, is put together at the end. */
#include <dirent.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "cli/drawing.h"
#include "cli/progress.h"
#include "cli/reporting.h"

enum {
    MOST_RUNS = 300,  /* motors up to which every start is run: each run turns all the others as well */
    MOST_ADVICE = 10, /* failing starts that changes are tried for */
    PAPER_TALL = 1250 /* pixels beside a width of 1000: what a sheet of paper shows with its caption */
};

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

/* --- one feeder -------------------------------------------------------------------------------------------------- */

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
        .folder = report_folder(s),
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
        return ferror(r->sections) ? report_tell_lost(s) : tell_unfit_picture(s, r);
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
    enum sag_status status = report_write_checks(s, r);
    if (status == SAG_OK)
        status = report_write_starts(s, r);
    if (status == SAG_OK)
        status = report_write_branches(s, r);
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
        status = report_open(s, r);
    if (status == SAG_OK && !s->options->force && !is_empty(report_folder(s)))
        status = each_feeder(s, r, look_at_feeder);
    if (status == SAG_OK)
        status = each_feeder(s, r, do_feeder);
    if (status == SAG_OK)
        status = report_write_boards(s, r);
    if (status == SAG_OK)
        status = report_write_circuits(s, r);
    if (status == SAG_OK)
        status = session_find_taps(s, &r->taps);
    if (status == SAG_OK)
        status = report_write_page(s, r);
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
        status = report_close(&s, &r, run(&s, &r));
    if (status == SAG_OK && !options->quiet)
        printf("%s/index.html\n", report_folder(&s));
    release(&r);
    return session_close(&s, status);
}

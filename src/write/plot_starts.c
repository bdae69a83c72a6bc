#include "write/plot_starts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "base/number.h"
#include "write/escape.h"

enum {
    MOST_GROUPS = 36 /* of a feeder: six pages; each run solves the whole plant some hundred times */
};

bool same_numbers(const double *left, const double *right, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (left[i] != right[i] && !(isnan(left[i]) && isnan(right[i])))
            return false;
    return true;
}

static bool same_motor(const struct sag_grid_motor *a, const struct sag_grid_motor *b)
{
    const double left[] = {a->volts_rated,    a->main_flux,     a->hz,       a->share,          a->sync_rad_s,
                           a->inertia,        a->branch_r,      a->branch_x, a->watts,          a->vars,
                           a->terminal_share, a->load.exponent, a->load.t0,  a->load.breakaway, a->machine.saddle};
    const double right[] = {b->volts_rated,    b->main_flux,     b->hz,       b->share,          b->sync_rad_s,
                            b->inertia,        b->branch_r,      b->branch_x, b->watts,          b->vars,
                            b->terminal_share, b->load.exponent, b->load.t0,  b->load.breakaway, b->machine.saddle};
    _Static_assert(sizeof left == sizeof right, "the same of both");
    return a->node == b->node && a->duty == b->duty && a->driven == b->driven && a->has_circuit == b->has_circuit &&
           same_numbers(left, right, sizeof left / sizeof *left) && same_machine(&a->machine, &b->machine);
}

static bool same_starter(const struct sag_starter *a, const struct sag_starter *b)
{
    const double left[] = {a->setting, a->transfer_time, a->transfer_speed, a->ramp_time};
    const double right[] = {b->setting, b->transfer_time, b->transfer_speed, b->ramp_time};
    return a->method == b->method && same_numbers(left, right, sizeof left / sizeof *left);
}

static bool same_start(const struct sag_plot_job *job, const struct start_group *group, size_t motor,
                       const struct sag_starter *starter)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        const struct sag_grid_motor *motors = job->grids[k].motors;
        if (!same_motor(&motors[group->first->index], &motors[motor]))
            return false;
    }
    return same_starter(&group->starter, starter);
}

/* Can its start be computed? */
static bool can_start(const struct sag_grid_motor *motor, const struct sag_plate *plate)
{
    bool wound = plate->choice[SAG_ROTOR] == SAG_ROTOR_WOUND; /* it starts as its resistors let it */
    return motor->driven || (!wound && motor->has_circuit && motor->inertia > 0);
}

static void collect(const struct sag_plot_job *job, struct starts *out)
{
    for (size_t i = 0; i < job->count; i++) {
        const struct sag_result *r = &job->results[i];
        const struct sag_grid_motor *motor = &job->grids[SAG_CORNER_LIKELY].motors[r->index];
        struct sag_starter starter = sag_starter_of(job->plant->tables, r->motor.plate);
        size_t g = 0;
        out->group_of[i] = SIZE_MAX;
        if (!can_start(motor, r->motor.plate)) {
            add_tag(out->no_run, sizeof out->no_run, r->motor.plate->tag);
            continue;
        }
        while (g < out->count && !same_start(job, &out->groups[g], r->index, &starter))
            g++;
        if (g == out->count)
            out->groups[out->count++] = (struct start_group){.first = r, .motor = motor, .starter = starter, .id = g};
        out->group_of[i] = g;
        out->groups[g].count++;
        add_tag(out->groups[g].tags, sizeof out->groups[g].tags, r->motor.plate->tag);
    }
}

static double locked_amps(const struct start_group *g)
{
    return g->first->motor.fact[SAG_LOCKED_AMPS].value;
}

static int by_amps(const void *left, const void *right)
{
    double a = locked_amps(left), b = locked_amps(right);
    const struct start_group *l = left, *r = right;
    return a != b ? (a < b) - (a > b) : (l->first->index > r->first->index) - (l->first->index < r->first->index);
}

static int by_place(const void *left, const void *right)
{
    const struct start_group *l = left, *r = right;
    return (l->first->index > r->first->index) - (l->first->index < r->first->index);
}

/* Of too many, those that draw most at standstill; then as in the list again. */
static void keep_largest(struct starts *out)
{
    if (out->count <= MOST_GROUPS)
        return;
    qsort(out->groups, out->count, sizeof *out->groups, by_amps);
    out->beyond = out->count - MOST_GROUPS;
    out->count = MOST_GROUPS;
    qsort(out->groups, out->count, sizeof *out->groups, by_place);
}

static bool case_exists(const struct sag_plot_job *job, enum sag_case which)
{
    return job->plant->cases[which] && sag_known(&job->plant->boards[job->feeder].of[which].volts);
}

/* A run that is kept is looked at where it is. */
static enum sag_status run_or_find(const struct sag_plot_job *job, const struct sag_start_job *start,
                                   enum sag_corner corner, struct start_group *g, int run)
{
    const struct sag_run *kept = start->from_rest ? NULL : sag_find_kept(job->kept, g->first->index, start->which);
    if (!kept)
        return sag_run_up(start, &g->runs[run]);
    enum sag_status status = sag_keep_run(job->kept, start, corner);
    g->runs[run] = kept[corner];
    g->is_kept[run] = true;
    return status;
}

static void run_one(void *context, size_t index)
{
    struct starts *s = context;
    struct start_group *g = &s->groups[index / RUN_COUNT];
    int run = (int)(index % RUN_COUNT);
    const struct sag_plot_job *job = s->job;
    if (run != SAG_CORNER_LIKELY && (job->only_look || (run == RUN_LOW && !s->low)))
        return;
    const struct sag_closing closing = {g->first->index, 0};
    const struct sag_start_job start = {.tables = job->plant->tables,
                                        .grid = &job->grids[run == RUN_LOW ? SAG_CORNER_LIKELY : run],
                                        .list = job->plant->list,
                                        .closings = &closing,
                                        .count = 1,
                                        .which = run == RUN_LOW ? SAG_CASE_LOW : s->which,
                                        /* typed volts hold: others neither give nor take */
                                        .from_rest = !job->reports,
                                        .keep_trace = true};
    enum sag_status status =
        run_or_find(job, &start, run == RUN_LOW ? SAG_CORNER_LIKELY : (enum sag_corner)run, g, run);
    g->has_run[run] = true;
    g->settles[run] = status == SAG_OK;
    if (status == SAG_NO_MEMORY)
        g->failed = true;
}

enum sag_status find_starts(const struct sag_plot_job *job, struct starts *out)
{
    enum sag_status status = SAG_OK;
    size_t room = job->count ? job->count : 1;
    *out = (struct starts){
        .job = job, .groups = calloc(room, sizeof *out->groups), .group_of = calloc(room, sizeof *out->group_of)};
    if (!out->groups || !out->group_of)
        return SAG_NO_MEMORY;
    while (out->which + 1 < SAG_CASE_COUNT && !case_exists(job, out->which))
        out->which++;
    out->low = out->which != SAG_CASE_LOW && case_exists(job, SAG_CASE_LOW);
    collect(job, out);
    keep_largest(out);
    sag_batch_run(run_one, out, out->count * RUN_COUNT);
    for (size_t i = 0; i < out->count; i++)
        if (out->groups[i].failed)
            status = SAG_NO_MEMORY;
    return status;
}

void free_starts(struct starts *starts)
{
    for (size_t i = 0; i < starts->count; i++)
        for (int k = 0; k < RUN_COUNT; k++)
            if (!starts->groups[i].is_kept[k])
                sag_run_free(&starts->groups[i].runs[k]);
    free(starts->groups);
    free(starts->group_of);
    *starts = (struct starts){0};
}

const struct sag_run *likely_run(const struct start_group *group)
{
    return &group->runs[SAG_CORNER_LIKELY];
}

const struct sag_started *started_in(const struct start_group *group, int run)
{
    const struct sag_run *r = &group->runs[run];
    return group->has_run[run] && r->started && r->trace_count ? &r->started[0] : NULL;
}

const char *power_words(const struct start_group *group, char *out, size_t room)
{
    char power[SAG_NUMBER_ROOM];
    bool kilowatts = group->first->motor.iec;
    double watts = group->first->motor.fact[SAG_RATED_POWER].value;
    sag_number_figures(power, watts / (kilowatts ? 1000 : SAG_WATTS_PER_HP), 4);
    snprintf(out, room, "%s %s", power, kilowatts ? "kW" : "hp");
    return out;
}

void put_start_title(const struct start_group *group, FILE *stream)
{
    char title[320], tags[130], power[SAG_NUMBER_ROOM + 4], method[40];
    enum sag_starting starting =
        group->starter.method == SAG_STARTING_BLANK ? SAG_STARTING_ACROSS : group->starter.method;
    snprintf(method, sizeof method, "%s", sag_choice_word(SAG_STARTING, starting));
    for (char *c = method; *c; c++)
        *c = *c == '_' ? ' ' : *c;
    snprintf(title, sizeof title, "%s: %s, %d V, %s", put_cut(tags, sizeof tags, group->tags, 24),
             power_words(group, power, sizeof power), (int)round(group->first->motor.fact[SAG_RATED_VOLTS].value),
             method);
    put_gnuplot(stream, title);
}

void put_foot_note(const char *text, int line, FILE *f)
{
    const int first_label = 20; /* below it are those of panels */
    fprintf(f, "set label %d ", first_label + line);
    put_gnuplot(f, text);
    fprintf(f, " at screen 0.03, screen %d.0/tall left textcolor rgb '" COLOUR_FRAME "'\n",
            NOTES_FOOT + NOTE_TALL * line);
}

void put_panel_place(const struct panel_grid *grid, size_t number, FILE *f)
{
    size_t row = (number - 1) / 2;
    bool right = number % 2 == 0;
    fprintf(f, "set tmargin at screen 1 - (%d.0 + %zu*%d.0 + %d)/tall; ", grid->head, row, grid->row, grid->row_head);
    fprintf(f, "set bmargin at screen 1 - (%d.0 + %zu*%d.0)/tall\n", grid->head - grid->row_foot, row + 1, grid->row);
    fprintf(f, "set lmargin at screen %s; set rmargin at screen %s\n", right ? "0.57" : "0.07", grid->right[right]);
}

enum sag_status plot_starts(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    struct starts starts;
    if (!job->grids)
        return SAG_OK;
    enum sag_status status = find_starts(job, &starts);
    if (status == SAG_OK && job->reports) /* volts that are typed do not sag */
        status = plot_sag(&starts, files, diags);
    if (status == SAG_OK)
        status = plot_torque(&starts, files, diags);
    if (status == SAG_OK && job->size)
        status = plot_timecurrent(&starts, files, diags);
    free_starts(&starts);
    return status;
}

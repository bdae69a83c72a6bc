/* plot: gnuplot scripts for each feeder, and the pictures with --render. */
#include <stdlib.h>
#include <string.h>

#include "cli/drawing.h"
#include "cli/session.h"

struct plotting {
    struct sag_result *results; /* of one feeder */
    size_t count;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_plant_size size;
    uint32_t feeder;
    bool only_look; /* the first round: does any file stand in the way? */
    struct sag_file_list files;
    const struct sag_writer *writer;
    struct sag_sheet sheet; /* for --findings */
};

static const char *picture_kind(const struct options *o)
{
    return o->render ? o->render : "png";
}

static enum sag_status write_feeder(struct session *s, struct plotting *p)
{
    struct sag_plot_job job = {
        .plant = &s->plant,
        .results = p->results,
        .count = p->count,
        .feeder = p->feeder,
        .supply = s->has_supply ? &s->supply : NULL,
        .reports = s->reports,
        .grids = p->grids,
        .device_curve = s->device_curve,
        .relay_curve = s->relay_curve,
        .size = &p->size,
        .folder = s->options->output ? s->options->output : ".",
        .picture = picture_kind(s->options),
        .inputs = {s->options->words[0], s->options->supply, s->options->device_curve, s->options->relay_curve,
                   session_measured_path(s)},
        .force = s->options->force,
        .draws = s->options->render != NULL,
        .only_look = p->only_look,
    };
    return p->count ? sag_plot_feeder(&job, &p->files, &s->diags) : SAG_OK;
}

static enum sag_status take(struct session *s, const struct sag_result *r, void *context)
{
    struct plotting *p = context;
    enum sag_status status = SAG_OK;
    if (!p->only_look)
        session_count(s, r);
    if (r->motor.plate->feeder != p->feeder) {
        status = write_feeder(s, p);
        p->count = 0;
        p->feeder = r->motor.plate->feeder;
    }
    p->results[p->count++] = *r;
    return status;
}

static size_t largest_feeder(const struct session *s)
{
    size_t most = 1, run = 0;
    uint32_t last = 0;
    for (size_t i = 0; i < s->order_count; i++) {
        uint32_t feeder = s->list.plates[s->order[i]].feeder;
        run = i && feeder == last ? run + 1 : 1;
        last = feeder;
        most = run > most ? run : most;
    }
    return most;
}

static enum sag_status draw_all(struct session *s, const struct plotting *p)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < p->files.count && status == SAG_OK && s->options->render; i++)
        status = draw_or_complain(p->files.names[i], s->options->render, &s->diags);
    return status;
}

static void print_names(const struct session *s, const struct plotting *p)
{
    for (size_t i = 0; i < p->files.count && !s->options->quiet; i++) {
        const char *name = p->files.names[i];
        int stem = (int)(strlen(name) - strlen(".gp"));
        printf("%s\n", name);
        if (s->options->render)
            printf("%.*s.%s\n", stem, name, s->options->render);
    }
}

static enum sag_status print_finding(struct session *s, const struct sag_result *r, void *context)
{
    struct plotting *p = context;
    return session_finding_rows(s, r, p->writer, &p->sheet);
}

static enum sag_status print_findings(struct session *s, struct plotting *p)
{
    p->writer = sag_writer_find(s->options->format);
    p->sheet = (struct sag_sheet){.stream = stdout, .view = &sag_finding_view};
    p->writer->begin(&p->sheet, NULL);
    return session_each(s, print_finding, p);
}

/* Once through all feeders. */
static enum sag_status each_feeder(struct session *s, struct plotting *p, bool only_look)
{
    p->only_look = only_look;
    p->count = 0;
    p->feeder = s->list.plates[s->order[0]].feeder;
    enum sag_status status = session_each(s, take, p);
    return status == SAG_OK ? write_feeder(s, p) : status;
}

static enum sag_status run(struct session *s, struct plotting *p)
{
    enum sag_status status = session_group_by_feeder(s);
    p->results = status == SAG_OK ? calloc(largest_feeder(s), sizeof *p->results) : NULL;
    status = p->results ? session_build_corners(s, p->grids) : SAG_NO_MEMORY;
    if (status == SAG_OK)
        status = session_size(s, &p->size);
    if (status == SAG_OK)
        status = sag_out_folder(s->options->output ? s->options->output : ".", &s->diags);
    if (status == SAG_OK)
        status = each_feeder(s, p, true);
    if (status == SAG_OK)
        status = each_feeder(s, p, false);
    if (status == SAG_OK)
        status = draw_all(s, p);
    if (status != SAG_OK)
        return status;
    struct sag_out *out = NULL;
    status = sag_out_open(&out, NULL, false, &s->diags);
    if (status == SAG_OK && s->options->findings)
        status = print_findings(s, p);
    else if (status == SAG_OK)
        print_names(s, p);
    return out ? sag_out_close(out, status, &s->diags) : status;
}

enum exit_status cmd_plot(const struct options *options)
{
    struct session s;
    struct plotting p = {0};
    enum sag_status status = session_open(&s, options, options->words[0]);
    if (status == SAG_OK)
        status = run(&s, &p);
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&p.grids[k]);
    sag_plant_size_free(&p.size);
    free(p.results);
    sag_file_list_free(&p.files);
    return session_close(&s, status);
}

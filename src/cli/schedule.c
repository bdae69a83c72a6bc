/* What `protect` and `report` share: every circuit of the path sized, its feeders and transformers judged. */
#include "cli/schedule.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Amps without a kind are read as those of the kind that is sized. */
static void note_blank_kinds(struct session *s)
{
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_plate *plate = &s->list.plates[s->order[i]];
        struct sag_shown shown;
        if (isnan(plate->given[SAG_DEVICE_AMPS]) || plate->choice[SAG_DEVICE] != SAG_DEVICE_BLANK)
            continue;
        enum sag_device kind = s->options->device ? s->options->device : SAG_DEVICE_INVERSE_TIME_BREAKER;
        sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){s->list.file, plate->line, 0},
                     "device: blank for %s although device_amps is given; taken as %s",
                     sag_shown(&shown, plate->tag, strlen(plate->tag)), sag_choice_word(SAG_DEVICE, kind));
    }
}

/* A curve has no tag in it. */
static void note_shared_curves(struct session *s)
{
    if ((s->device_curve.count || s->relay_curve.count) && s->order_count > 1)
        sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){0},
                     "a curve is taken for all %zu motors; --motor TAG names one", s->order_count);
}

/* All rows; with --feeder that one and what it is fed through; with --motor none but the motor's. */
static void choose_circuits(const struct session *s, struct schedule *p)
{
    const struct options *o = s->options;
    for (size_t i = 0; i < p->size.feeder_count; i++)
        p->shown[i] = !o->motor && !o->feeder;
    for (size_t i = 0; i < p->size.feeder_count && o->feeder && !o->motor; i++)
        p->shown[i] = strcmp(p->size.feeders[i].id, o->feeder) == 0;
    for (size_t i = p->size.feeder_count; i-- > 0 && s->has_supply;)
        if (p->shown[i] && s->supply.nodes[i].parent >= 0)
            p->shown[s->supply.nodes[i].parent] = true;
}

static void find_first(const struct session *s, struct schedule *p)
{
    for (size_t i = 0; i < s->order_count; i++)
        p->first[s->list.plates[s->order[i]].feeder + 1]++;
    for (size_t f = 0; f < s->list.feeder_count; f++)
        p->first[f + 1] += p->first[f];
}

static bool is_alone(const struct session *s)
{
    return !s->has_supply && s->list.count == 1;
}

bool schedule_shows_feeder(const struct session *s, const struct schedule *p, size_t i)
{
    return p->shown[i] && p->size.feeders[i].sized && !is_alone(s);
}

bool schedule_shows_transformer(const struct schedule *p, size_t i)
{
    return p->shown[i] && p->size.transformers && p->size.transformers[i].present;
}

bool schedule_has_motors(const struct schedule *p, size_t i)
{
    uint32_t feeder = p->size.feeders[i].feeder;
    return feeder != UINT32_MAX && p->first[feeder] < p->first[feeder + 1];
}

uint64_t schedule_clauses(const struct session *s, const struct schedule *p)
{
    uint64_t clauses = 0;
    for (size_t i = 0; i < s->order_count; i++)
        clauses |= p->size.motors[s->order[i]].clauses;
    for (size_t i = 0; i < p->size.feeder_count; i++) {
        clauses |= schedule_shows_feeder(s, p, i) ? p->size.feeders[i].clauses : 0;
        clauses |= schedule_shows_transformer(p, i) ? p->size.transformers[i].clauses : 0;
    }
    return clauses;
}

static enum sag_status make_room(struct session *s, struct schedule *p)
{
    size_t feeders = p->size.feeder_count ? p->size.feeder_count : 1;
    p->feeders = calloc(feeders, sizeof *p->feeders);
    p->shown = calloc(feeders, sizeof *p->shown);
    p->first = calloc(s->list.feeder_count + 1, sizeof *p->first);
    if (s->has_supply)
        p->transformers = calloc(feeders, sizeof *p->transformers);
    bool all = p->feeders && p->shown && p->first && (p->transformers || !s->has_supply);
    return all ? SAG_OK : SAG_NO_MEMORY;
}

static void put_job(struct session *s, struct schedule *p)
{
    const struct sag_supply *supply = s->has_supply ? &s->supply : NULL;
    p->job = (struct sag_protect_job){.plant = &s->plant,
                                      .supply = supply,
                                      .size = &p->size,
                                      .grids = p->grids,
                                      .reports = s->reports,
                                      .device_curve = s->device_curve,
                                      .relay_curve = s->relay_curve};
    p->table = (struct sag_protect_table){.list = &s->list,
                                          .boards = s->boards,
                                          .supply = supply,
                                          .size = &p->size,
                                          .reports = s->reports,
                                          .feeders = p->feeders,
                                          .transformers = p->transformers};
}

enum sag_status schedule_open(struct session *s, struct schedule *p)
{
    enum sag_status status = session_group_by_feeder(s);
    if (status == SAG_OK)
        status = session_size(s, &p->size);
    if (status == SAG_OK)
        status = make_room(s, p);
    if (status == SAG_OK)
        status = session_build_corners(s, p->grids);
    if (status != SAG_OK)
        return status;
    put_job(s, p);
    note_blank_kinds(s);
    note_shared_curves(s);
    choose_circuits(s, p);
    find_first(s, p);
    sag_judge_circuits(&p->job, p->feeders, p->transformers);
    return SAG_OK;
}

void schedule_free(struct schedule *p)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&p->grids[k]);
    sag_plant_size_free(&p->size);
    free(p->feeders);
    free(p->transformers);
    free(p->shown);
    free(p->first);
    *p = (struct schedule){0};
}

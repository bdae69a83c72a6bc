/* A plant from texts, sized: motors, feeders, transformers by their names. */
#ifndef TESTS_SIZE_HELP_H
#define TESTS_SIZE_HELP_H

#include <math.h>
#include <stdlib.h>

#include "read_help.h"

#define DUAL    SAG_DEVICE_DUAL_ELEMENT_FUSE
#define NONTIME SAG_DEVICE_NONTIME_FUSE
#define BREAKER SAG_DEVICE_INVERSE_TIME_BREAKER
#define INSTANT SAG_DEVICE_INSTANTANEOUS_BREAKER

#define SIZE_SUPPLY                                                                                                    \
    "id,fed_from,kind,nominal_volts,kva,impedance_pct,primary_volts,secondary_volts,length_ft,conductor,material,"     \
    "sets,load_kw,load_pf,device,device_amps,ambient_c,conductors_in_raceway\n"

/* What a user asks for beside his lists. */
struct size_asked {
    enum sag_device device;
    int insulation_c, terminal_c;
    double volts; /* typed in place of a supply file; 0: 480 */
};

struct size_plant {
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_plant_size size;
};

static inline void size_no_errors(const char *name, struct sag_diags *diags)
{
    sag_diags_sort(diags);
    for (size_t i = 0; i < diags->count; i++)
        if (diags->items[i].severity == SAG_ERROR)
            fail_msg("%s: %s", name, diags->items[i].text);
    sag_diags_free(diags);
}

static inline void size_read(struct size_plant *p, const struct size_asked *asked)
{
    const struct sag_supply *supply = p->supply.count ? &p->supply : NULL;
    const struct sag_typed_volts typed = {.line = {asked->volts > 0 ? asked->volts : 480}, .count = 1};
    assert_int_equal(sag_find_boards(shared_tables(), supply, supply ? NULL : &typed, &p->list, &p->boards), SAG_OK);
    const struct sag_size_job job = {shared_tables(),     supply,           p->boards, &p->list, asked->device,
                                     asked->insulation_c, asked->terminal_c};
    assert_int_equal(sag_size_plant(&job, &p->size), SAG_OK);
}

/* supply: rows below SIZE_SUPPLY; NULL: volts are typed. motors: with their own head. */
static inline void size_open(struct size_plant *p, const char *supply, const char *motors,
                             const struct size_asked *asked)
{
    struct sag_diags diags = {0};
    char text[4000];
    *p = (struct size_plant){0};
    snprintf(text, sizeof text, SIZE_SUPPLY "%s", supply ? supply : "");
    struct sag_input supply_input = text_input("s.csv", text), motor_input = text_input("m.csv", motors);
    if (supply)
        sag_read_supply(&supply_input, shared_tables(), &p->supply, &diags);
    sag_read_motors(&motor_input, shared_tables(), supply ? &p->supply : NULL, &p->list, &diags);
    size_no_errors(motors, &diags);
    size_read(p, asked);
}

/* One motor, typed as for --plate. */
static inline const struct sag_motor_size *size_plate(struct size_plant *p, const char *plate,
                                                      const struct size_asked *asked)
{
    struct sag_diags diags = {0};
    *p = (struct size_plant){0};
    sag_read_plate(plate, shared_tables(), NULL, &p->list, &diags);
    size_no_errors(plate, &diags);
    size_read(p, asked);
    return &p->size.motors[0];
}

static inline void size_free(struct size_plant *p)
{
    sag_plant_size_free(&p->size);
    free(p->boards);
    sag_motor_list_free(&p->list);
    sag_supply_free(&p->supply);
}

static inline const struct sag_motor_size *size_motor(const struct size_plant *p, const char *tag)
{
    for (size_t i = 0; i < p->size.motor_count; i++)
        if (strcmp(p->list.plates[i].tag, tag) == 0)
            return &p->size.motors[i];
    fail_msg("no motor %s", tag);
    return NULL;
}

static inline size_t size_row(const struct size_plant *p, const char *id)
{
    for (size_t i = 0; i < p->size.feeder_count; i++)
        if (strcmp(p->size.feeders[i].id, id) == 0)
            return i;
    fail_msg("no feeder %s", id);
    return 0;
}

static inline const struct sag_feeder_size *size_feeder_of(const struct size_plant *p, const char *id)
{
    return &p->size.feeders[size_row(p, id)];
}

static inline const struct sag_transformer_size *size_transformer_of(const struct size_plant *p, const char *id)
{
    return &p->size.transformers[size_row(p, id)];
}

/* Amps to a millionth; NAN: there must be none. */
static inline void check_amps(const char *name, double got, double wanted)
{
    if (isnan(wanted) ? !isnan(got) : !(fabs(got - wanted) <= 1e-6 * fabs(wanted)))
        fail_msg("%s: got %.9g, wanted %.9g", name, got, wanted);
}

/* A size; NULL: there must be none. */
static inline void check_size(const char *name, const char *got, const char *wanted)
{
    check_text(name, got ? got : "none", wanted ? wanted : "none");
}

static inline bool rests_on(uint64_t clauses, enum sag_clause clause)
{
    return clauses >> clause & 1;
}

#endif

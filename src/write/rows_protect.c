/* The schedule of `protect`: a line a motor, a feeder, a winding of a transformer. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "sagband/write.h"
#include "write/formats.h"
#include "write/wrap.h"

/* clang-format off: one row a column;
   X(ENUM, name or NULL, head in text or NULL, unit in text, width, decimals, kind) */
#define PROTECT_COLUMNS(X)                                                                                             \
    X(ROW, "row", NULL, "", 0, 0, TEXT)                                                                                \
    X(ID, "id", NULL, "", 0, 0, TEXT)                                                                                  \
    X(NAME, NULL, "circuit", "", 12, 0, TEXT)                                                                          \
    X(FEEDER, "feeder", NULL, "", 0, 0, TEXT)                                                                          \
    X(POWER, NULL, "hp", "", 5, 1, NUMBER)                                                                             \
    X(CODE, "code_table_amps", NULL, "", 0, 1, NUMBER)                                                                 \
    X(AMPS, NULL, "amps", "A", 6, 1, NUMBER)                                                                           \
    X(WIRE_MIN, "conductor_min_amps", "needs", "A", 7, 1, NUMBER)                                                      \
    X(WIRE, "conductor", "wire size", "", 10, 0, TEXT)                                                                 \
    X(WIRE_AMPS, "conductor_amps", "carries", "A", 7, 0, NUMBER)                                                       \
    X(GROUND, "ground_conductor", "ground", "", 10, 0, TEXT)                                                           \
    X(OVERLOAD, "overload_amps", "OL", "A", 6, 2, NUMBER)                                                              \
    X(OVERLOAD_MOST, "overload_max_amps", "OL max", "A", 6, 2, NUMBER)                                                 \
    X(DEVICE, "device", NULL, "", 0, 0, TEXT)                                                                          \
    X(KIND, NULL, "device", "", 13, 0, TEXT)                                                                           \
    X(SHARE, "device_pct", "code", "%", 4, 0, NUMBER)                                                                  \
    X(DEVICE_AMPS, "device_amps", "rating", "A", 6, 0, NUMBER)                                                         \
    X(DEVICE_MOST, "device_max_amps", "max", "A", 5, 0, NUMBER)                                                        \
    X(HAS, NULL, "installed", "A", 9, 0, NUMBER)                                                                       \
    X(DISCONNECT, "disconnect_amps", "discon.", "A least", 7, 1, NUMBER)                                               \
    X(FAULT, "fault_ka", NULL, "", 0, 2, NUMBER)                                                                       \
    X(LET, "let_start", "passes", "", 7, 0, TEXT)                                                                      \
    X(VERDICT, "verdict", "verdict", "", 7, 0, VERDICT)                                                                \
    X(CLAUSES, "clauses", NULL, "", 0, 0, TEXT)                                                                        \
    X(FEET, NULL, "foot", "", 0, 0, TEXT)                                                                              \
    X(SIDE, "side", NULL, "", 0, 0, TEXT)                                                                              \
    X(RATED, "rated_amps", NULL, "", 0, 2, NUMBER)                                                                     \
    X(OLD_WIRE, "installed_conductor", NULL, "", 0, 0, TEXT)                                                           \
    X(OLD_WIRE_AMPS, "installed_conductor_amps", NULL, "", 0, 0, NUMBER)                                               \
    X(OLD_DEVICE, "installed_device_amps", NULL, "", 0, 1, NUMBER)                                                     \
    X(OLD_OVERLOAD, "installed_overload_amps", NULL, "", 0, 2, NUMBER)
/* clang-format on */

enum {
#define COLUMN(name, ...) AT_##name,
    PROTECT_COLUMNS(COLUMN)
#undef COLUMN
};

#define COLUMN(id, name, head, unit, width, decimals, kind) {name, head, unit, width, decimals, SAG_CELL_##kind},
static const struct sag_column columns[] = {PROTECT_COLUMNS(COLUMN)};
#undef COLUMN

const struct sag_view sag_protect_view = {columns, sizeof columns / sizeof *columns};

/* In a narrow column: the words of the choice without what goes without saying. */
const char *short_device(uint8_t kind)
{
    static const char *const words[] = {[SAG_DEVICE_BLANK] = "",
                                        [SAG_DEVICE_DUAL_ELEMENT_FUSE] = "dual-el. fuse",
                                        [SAG_DEVICE_NONTIME_FUSE] = "fuse",
                                        [SAG_DEVICE_INVERSE_TIME_BREAKER] = "breaker",
                                        [SAG_DEVICE_INSTANTANEOUS_BREAKER] = "inst. breaker"};
    _Static_assert(sizeof words / sizeof *words == SAG_DEVICE_KINDS, "ORDER DEVICE");
    return words[kind];
}

const char *sag_wire_words(const struct sag_wire *wire, char *out, size_t room)
{
    const char *material = sag_choice_word(SAG_MATERIAL, wire->material);
    out[0] = '\0';
    if (wire->size && wire->sets > 1)
        snprintf(out, room, "%d x %s %s", wire->sets, wire->size, material);
    else if (wire->size)
        snprintf(out, room, "%s %s", wire->size, material);
    return out;
}

static const char *clause_list(uint64_t clauses, char *out, size_t room)
{
    size_t used = 0;
    out[0] = '\0';
    for (int c = 0; c < SAG_CLAUSE_COUNT && used < room; c++) {
        const char *number = sag_clause_number((enum sag_clause)c);
        if (clauses >> c & 1)
            used +=
                (size_t)snprintf(out + used, room - used, "%s%s", used ? "; " : "", *number ? number : "local code");
    }
    return out;
}

/* A clause has its letter whatever else stands in the schedule, so that two schedules can be laid side by side. */
_Static_assert(SAG_CLAUSE_COUNT <= 52, "a letter each");

char sag_clause_letter(enum sag_clause clause)
{
    int place = (int)clause;
    return (char)(place < 26 ? 'a' + place : 'A' + place - 26);
}

static const char *feet(uint64_t clauses, char *out)
{
    size_t n = 0;
    for (int c = 0; c < SAG_CLAUSE_COUNT; c++)
        if (clauses >> c & 1)
            out[n++] = sag_clause_letter((enum sag_clause)c);
    out[n] = '\0';
    return out;
}

void sag_print_feet(FILE *stream, uint64_t clauses)
{
    enum {
        INDENT = 25
    };
    fputs("Feet, clauses of " SAG_CODE_EDITION "\n", stream);
    for (int c = 0; c < SAG_CLAUSE_COUNT; c++) {
        struct wrap wrap = {stream, INDENT, INDENT};
        if (!(clauses >> c & 1))
            continue;
        fprintf(stream, "%c  %-21s ", sag_clause_letter((enum sag_clause)c), sag_clause_number((enum sag_clause)c));
        put_words(&wrap, sag_clause_words((enum sag_clause)c));
        fputc('\n', stream);
    }
}

/* What is shown of a least is never less than it, of a most never more. */
static double shown_least(double amps)
{
    const double hair = 1e-9;
    return ceil(amps * 10 - hair) / 10;
}

static double shown_most(double amps)
{
    const double hair = 1e-9;
    return floor(amps * 100 + hair) / 100;
}

static void clear(struct sag_value *v)
{
    for (size_t i = 0; i < sag_protect_view.count; i++)
        v[i] = (struct sag_value){NAN, ""};
}

static void put_wire(const struct sag_wire *wire, const struct sag_qty *least, const char *ground,
                     struct sag_protect_text *text, struct sag_value *v)
{
    v[AT_WIRE_MIN].number = shown_least(least->value);
    v[AT_WIRE].text = sag_wire_words(wire, text->wire, sizeof text->wire);
    v[AT_WIRE_AMPS].number = wire->amps;
    if (sag_known(least) && !wire->size)
        v[AT_WIRE].text = "none fits";
    const struct sag_wire beside = {.size = ground, .sets = wire->sets, .material = wire->material};
    v[AT_GROUND].text = sag_wire_words(&beside, text->ground, sizeof text->ground);
}

static void put_kind(uint8_t kind, struct sag_value *v)
{
    v[AT_DEVICE].text = sag_choice_word(SAG_DEVICE, kind);
    v[AT_KIND].text = short_device(kind);
}

static void put_clauses(uint64_t clauses, struct sag_protect_text *text, struct sag_value *v)
{
    v[AT_CLAUSES].text = clause_list(clauses, text->clauses, sizeof text->clauses);
    v[AT_FEET].text = feet(clauses, text->feet);
}

static void put_fault(const struct sag_protect_table *t, int32_t node, struct sag_value *v)
{
    const double kilo = 1000;
    if (!t->reports || node < 0)
        return;
    double amps = t->reports[node].fault_amps + t->reports[node].motor_fault_amps;
    v[AT_FAULT].number = isfinite(amps) ? amps / kilo : NAN;
}

/* Where no standard size is large enough, that is said and not left blank. */
static void put_device_amps(double amps, struct sag_value *v)
{
    v[AT_DEVICE_AMPS].number = amps;
    if (isnan(amps))
        v[AT_DEVICE_AMPS].text = "none";
}

static void put_motor_device(const struct sag_motor_size *m, struct sag_value *v)
{
    const struct sag_device_size *d = &m->device[m->kind];
    put_kind(m->kind, v);
    v[AT_SHARE].number = 100 * d->share;
    /* a setting is any number, and shown never above itself */
    bool setting = m->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    put_device_amps(setting ? floor(d->amps.value) : d->amps.value, v);
    v[AT_DEVICE_MOST].number = setting ? floor(d->most.value) : d->most.value;
}

/* A fire pump has no overload device, which is said and not left blank. */
static void put_overload(const struct sag_motor_size *m, struct sag_value *v)
{
    v[AT_OVERLOAD].number = shown_most(m->overload.value);
    v[AT_OVERLOAD_MOST].number = shown_most(m->overload_most.value);
    if (m->clauses >> SAG_CLAUSE_FIRE_NO_OVERLOAD & 1)
        v[AT_OVERLOAD].text = "none";
}

void sag_branch_row(const struct sag_protect_table *t, const struct sag_branch_result *r, struct sag_protect_text *text,
                    struct sag_value *v)
{
    const struct sag_plate *plate = r->motor.plate;
    const struct sag_motor_size *m = &t->size->motors[r->index];
    clear(v);
    v[AT_ROW].text = "motor";
    v[AT_ID].text = v[AT_NAME].text = plate->tag;
    v[AT_FEEDER].text = t->list->feeders[plate->feeder].id;
    v[AT_POWER].number = r->motor.fact[SAG_RATED_POWER].value / SAG_WATTS_PER_HP;
    bool by_plate = m->clauses >> SAG_CLAUSE_PLATE_AMPS & 1;
    v[AT_CODE].number = m->sizing == SAG_SIZED && !by_plate ? m->code_amps.value : NAN;
    v[AT_AMPS].number = m->code_amps.value;
    v[AT_RATED].number = m->plate_amps.value;
    v[AT_LET].text = r->computed ? sag_let_word(r->all) : r->hangs ? "hangs" : "no calc";
    v[AT_VERDICT].text = r->judged ? sag_verdict_word(r->verdict) : "";
    v[AT_HAS].number = v[AT_OLD_DEVICE].number = plate->given[SAG_DEVICE_AMPS];
    v[AT_OLD_OVERLOAD].number = plate->given[SAG_OVERLOAD_AMPS];
    v[AT_OLD_WIRE].text = sag_wire_words(&m->installed, text->old_wire, sizeof text->old_wire);
    v[AT_OLD_WIRE_AMPS].number = m->installed.amps;
    put_wire(&m->wire, &m->conductor_min, m->ground, text, v);
    put_overload(m, v);
    if (m->sizing == SAG_SIZED)
        put_motor_device(m, v);
    v[AT_DISCONNECT].number = shown_least(m->disconnect.value);
    put_fault(t, t->list->feeders[plate->feeder].node, v);
    put_clauses(m->clauses, text, v);
}

void sag_feeder_row(const struct sag_protect_table *t, size_t index, struct sag_protect_text *text, struct sag_value *v)
{
    const struct sag_feeder_size *f = &t->size->feeders[index];
    clear(v);
    v[AT_ROW].text = "feeder";
    v[AT_ID].text = v[AT_FEEDER].text = f->id;
    v[AT_NAME].text = f->service ? "main" : "feeder";
    v[AT_VERDICT].text = t->feeders[index].judged ? sag_verdict_word(t->feeders[index].verdict) : "";
    put_wire(&f->wire, &f->conductor_min, f->ground, text, v);
    if (f->sized) {
        put_kind(f->kind, v);
        put_device_amps(f->device.value, v);
    }
    if (!isnan(f->set_amps))
        v[AT_DEVICE_AMPS].text = "own";
    v[AT_DEVICE_MOST].number = f->device_most.value;
    v[AT_HAS].number = v[AT_OLD_DEVICE].number = f->device_installed;
    v[AT_OLD_WIRE].text = sag_wire_words(&f->installed, text->old_wire, sizeof text->old_wire);
    v[AT_OLD_WIRE_AMPS].number = f->installed.amps;
    put_fault(t, f->node, v);
    put_clauses(f->clauses, text, v);
}

void sag_transformer_row(const struct sag_protect_table *t, size_t index, enum sag_winding winding,
                         struct sag_protect_text *text, struct sag_value *v)
{
    static const char *const sides[] = {[SAG_PRIMARY] = "primary", [SAG_SECONDARY] = "secondary"};
    const struct sag_transformer_size *x = &t->size->transformers[index];
    clear(v);
    v[AT_ROW].text = "transformer";
    v[AT_ID].text = v[AT_FEEDER].text = t->size->feeders[index].id;
    v[AT_NAME].text = v[AT_SIDE].text = sides[winding];
    v[AT_AMPS].number = v[AT_RATED].number = x->rated_amps[winding].value;
    v[AT_VERDICT].text = t->transformers[index].judged ? sag_verdict_word(t->transformers[index].verdict) : "";
    put_wire(&x->wire[winding], &x->conductor_min[winding], NULL, text, v);
    put_kind(x->kind[winding] && x->sized ? x->kind[winding] : SAG_DEVICE_BLANK, v);
    v[AT_SHARE].number = 100 * x->share[winding];
    v[AT_DEVICE_AMPS].number = x->device[winding].value;
    v[AT_DEVICE_MOST].number = x->most[winding].value;
    v[AT_HAS].number = v[AT_OLD_DEVICE].number = x->installed[winding];
    put_clauses(x->clauses, text, v);
}

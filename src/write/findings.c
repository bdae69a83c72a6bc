/* Findings sorted, joined and put into words, for whatever they are written to. */
#include "write/findings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"

const char *finding_subject(const struct sag_motor_list *list, const struct sag_finding *f)
{
    return f->board ? f->board : list->plates[f->motor].tag;
}

const char *finding_case(const struct sag_finding *f)
{
    return f->which < SAG_CASE_COUNT ? sag_case_word((enum sag_case)f->which) : "";
}

/* Worst first, then by check, case, limit and motor: equal neighbours become one entry. */
static int compare_weight(const struct sag_finding *a, const struct sag_finding *b)
{
    if (a->verdict != b->verdict)
        return a->verdict > b->verdict ? -1 : 1;
    if (a->check != b->check)
        return sag_check_place(a->check) < sag_check_place(b->check) ? -1 : 1;
    if (a->which != b->which)
        return a->which < b->which ? -1 : 1;
    if (a->limit != b->limit)
        return a->limit < b->limit ? -1 : 1;
    int words = strcmp(a->missing, b->missing);
    if (words == 0)
        words = strcmp(a->source, b->source);
    if (words)
        return words;
    if (a->watch != b->watch)
        return a->watch < b->watch ? -1 : 1;
    return a->motor < b->motor ? -1 : a->motor > b->motor;
}

struct placed {
    const struct sag_finding *finding;
    size_t place;
};

/* Of equals the one that stood first, as qsort() does not promise by itself. */
static int by_weight(const void *left, const void *right)
{
    const struct placed *a = left, *b = right;
    int weight = compare_weight(a->finding, b->finding);
    return weight ? weight : (a->place > b->place) - (a->place < b->place);
}

/* Sizes are told one by one: whoever changes a device must know which. */
static bool one_by_one(const struct sag_check *check)
{
    return strcmp(check->unit, "A") == 0;
}

static bool same_entry(const struct sag_finding *a, const struct sag_finding *b)
{
    if (one_by_one(a->check) && a->value.value != b->value.value)
        return false;
    return a->verdict == b->verdict && a->check == b->check && a->which == b->which && a->limit == b->limit &&
           a->watch == b->watch && strcmp(a->source, b->source) == 0 && strcmp(a->missing, b->missing) == 0;
}

/* What the motors of a group span: their values, and their bounds. */
struct span {
    double least, most, low, high;
};

static struct span span_of(const struct sag_finding *group, size_t count)
{
    struct span all = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (size_t i = 0; i < count; i++) {
        const struct sag_qty *q = &group[i].value;
        all.least = fmin(all.least, q->value);
        all.most = fmax(all.most, q->value);
        all.low = fmin(all.low, q->low);
        all.high = fmax(all.high, q->high);
    }
    return all;
}

static void word_values(const struct sag_finding *entry, const struct span *all, struct finding_words *out)
{
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM];
    sag_number_print(a, all->least, 1);
    sag_number_print(b, all->most, 1);
    bool one = strcmp(a, b) == 0;
    if (isinf(all->most))
        snprintf(b, sizeof b, "any");
    snprintf(out->values, sizeof out->values, "%s%s%s %s", isinf(all->least) ? b : a, one ? "" : " to ", one ? "" : b,
             entry->check->unit);
}

/* What settles an open verdict. Most of it is told by the column that is missing; some columns want other words. */
static void word_next_step(const struct sag_finding *f, char *out, size_t room)
{
    static const struct {
        const char *missing, *words;
    } own[] = {{"saturation", "settle saturation next: no-load amps at rated and at 110 % volts"},
               {"relay_curve", "the maker's curve tells: option --relay-curve"},
               {"device_curve", "the maker's curve tells: option --device-curve"},
               {"trip_class", "look at the relay's trip_class next"}};
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (strcmp(f->missing, own[i].missing) == 0) {
            snprintf(out, room, "%s", own[i].words);
            return;
        }
    bool of_maker = strstr(f->missing, "inertia") || strstr(f->missing, "torque");
    if (of_maker)
        snprintf(out, room, "ask the maker for %s next", f->missing);
    else if (*f->missing && f->board)
        snprintf(out, room, "ask for %s of the supply next", f->missing);
    else if (strchr(f->missing, ' ')) /* no column's name */
        snprintf(out, room, "look at %s next", f->missing);
    else if (*f->missing)
        snprintf(out, room, "read %s from the plate next", f->missing);
    else if (f->verdict == SAG_VERDICT_UNKNOWN && strcmp(f->check->name, "start_computed") != 0)
        snprintf(out, room, "nothing on a plate settles it; have one measured");
}

void word_findings(const struct sag_finding *entry, size_t count, struct finding_words *out)
{
    const struct span all = span_of(entry, count);
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM];
    *out = (struct finding_words){0};
    word_values(entry, &all, out);
    if (all.low < entry->limit && all.high > entry->limit) /* the bounds are what decided */
        snprintf(out->bounds, sizeof out->bounds, "bounds %s to %s", sag_number_print(a, all.low, 1),
                 isinf(all.high) ? "without end" : sag_number_print(b, all.high, 1));
    if (entry->verdict == SAG_VERDICT_WATCH && entry->watch != entry->limit)
        snprintf(out->watched, sizeof out->watched, "watched from %s", sag_number_figures(a, entry->watch, 4));
    snprintf(out->limit, sizeof out->limit, "%s", sag_number_figures(a, entry->limit, 4));
    word_next_step(entry, out->next, sizeof out->next);
}

enum sag_status sort_findings(const struct sag_finding *findings, size_t count, struct sorted_findings *out)
{
    struct placed *order = malloc((count ? count : 1) * sizeof *order);
    *out = (struct sorted_findings){malloc((count ? count : 1) * sizeof *out->items), 0};
    if (!order || !out->items) {
        free(order);
        free(out->items);
        *out = (struct sorted_findings){0};
        return SAG_NO_MEMORY;
    }
    for (size_t i = 0; i < count; i++)
        if (!findings[i].repeats)
            order[out->count++] = (struct placed){&findings[i], i};
    qsort(order, out->count, sizeof *order, by_weight);
    for (size_t i = 0; i < out->count; i++)
        out->items[i] = *order[i].finding;
    free(order);
    return SAG_OK;
}

size_t entry_length(const struct sorted_findings *sorted, size_t first)
{
    size_t n = 0;
    while (first + n < sorted->count && same_entry(&sorted->items[first], &sorted->items[first + n]))
        n++;
    return n;
}

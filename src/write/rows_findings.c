/* Findings: a row each for machines, grouped for people. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"
#include "write/wrap.h"

enum {
    AT_SUBJECT,
    AT_CHECK,
    AT_CASE,
    AT_VALUE,
    AT_LIMIT,
    AT_UNIT,
    AT_VERDICT,
    AT_SOURCE,
    AT_MISSING
};

static const struct sag_column columns[] = {
    [AT_SUBJECT] = {"subject", "subject", "", 12, 0, SAG_CELL_TEXT},
    [AT_CHECK] = {"check", "check", "", 16, 0, SAG_CELL_TEXT},
    [AT_CASE] = {"case", "case", "", 8, 0, SAG_CELL_TEXT},
    [AT_VALUE] = {"value", "value", "", 8, 2, SAG_CELL_NUMBER},
    [AT_LIMIT] = {"limit", "limit", "", 8, 2, SAG_CELL_NUMBER},
    [AT_UNIT] = {"unit", "unit", "", 16, 0, SAG_CELL_TEXT},
    [AT_VERDICT] = {"verdict", "verdict", "", 8, 0, SAG_CELL_TEXT},
    [AT_SOURCE] = {"source", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_MISSING] = {"missing", "read next", "", 0, 0, SAG_CELL_TEXT},
};

const struct sag_view sag_finding_view = {columns, sizeof columns / sizeof *columns};

static const char *subject_word(const struct sag_motor_list *list, const struct sag_finding *f)
{
    return f->board ? f->board : list->plates[f->motor].tag;
}

static const char *case_word(const struct sag_finding *f)
{
    return f->which < SAG_CASE_COUNT ? sag_case_word((enum sag_case)f->which) : "";
}

void sag_finding_row(const struct sag_motor_list *list, const struct sag_finding *f, struct sag_value *v)
{
    v[AT_SUBJECT] = (struct sag_value){NAN, subject_word(list, f)};
    v[AT_CHECK] = (struct sag_value){NAN, f->check->name};
    v[AT_CASE] = (struct sag_value){NAN, case_word(f)};
    v[AT_VALUE] = (struct sag_value){f->value.value, ""};
    v[AT_LIMIT] = (struct sag_value){f->limit, ""};
    v[AT_UNIT] = (struct sag_value){NAN, f->check->unit};
    v[AT_VERDICT] = (struct sag_value){NAN, sag_verdict_word((enum sag_verdict)f->verdict)};
    v[AT_SOURCE] = (struct sag_value){NAN, f->source};
    v[AT_MISSING] = (struct sag_value){NAN, f->missing};
}

/* Worst first, then by check, case, limit and motor: equal neighbours become one entry. */
static int by_weight(const void *left, const void *right)
{
    const struct sag_finding *a = left;
    const struct sag_finding *b = right;
    if (a->verdict != b->verdict)
        return a->verdict > b->verdict ? -1 : 1;
    if (a->check != b->check)
        return a->check < b->check ? -1 : 1;
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

static void put_values(struct wrap *l, const struct sag_finding *group, size_t count)
{
    const struct span all = span_of(group, count);
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM], text[200];
    sag_number_print(a, all.least, 1);
    sag_number_print(b, all.most, 1);
    bool one = strcmp(a, b) == 0;
    if (isinf(all.most))
        snprintf(b, sizeof b, "any");
    snprintf(text, sizeof text, "%s%s%s %s,", isinf(all.least) ? b : a, one ? "" : " to ", one ? "" : b,
             group->check->unit);
    put_words(l, text);
    if (all.low < group->limit && all.high > group->limit) { /* the bounds are what decided */
        snprintf(text, sizeof text, "bounds %s to %s,", sag_number_print(a, all.low, 1),
                 isinf(all.high) ? "without end" : sag_number_print(b, all.high, 1));
        put_words(l, text);
    }
    if (group->verdict == SAG_VERDICT_WATCH && group->watch != group->limit) {
        snprintf(text, sizeof text, "watched from %s,", sag_number_figures(a, group->watch, 4));
        put_words(l, text);
    }
    snprintf(text, sizeof text, "limit %s", sag_number_figures(a, group->limit, 4));
    put_words(l, text);
}

/* What settles an open verdict. Most of it is told by the column that is missing; some columns want other words. */
static void put_next_step(struct wrap *l, const struct sag_finding *f)
{
    static const struct {
        const char *missing, *words;
    } own[] = {{"saturation", "- settle saturation next: no-load amps at rated and at 110 % volts"},
               {"relay_curve", "- the maker's curve tells: option --relay-curve"},
               {"device_curve", "- the maker's curve tells: option --device-curve"},
               {"trip_class", "- look at the relay's trip_class next"}};
    char text[120] = "";
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (strcmp(f->missing, own[i].missing) == 0) {
            put_words(l, own[i].words);
            return;
        }
    if (*f->missing && f->board)
        snprintf(text, sizeof text, "- ask for %s of the supply next", f->missing);
    else if (strchr(f->missing, ' ')) /* no column's name */
        snprintf(text, sizeof text, "- look at %s next", f->missing);
    else if (*f->missing)
        snprintf(text, sizeof text, "- read %s from the plate next", f->missing);
    else if (f->verdict == SAG_VERDICT_UNKNOWN && strcmp(f->check->name, "start_computed") != 0)
        snprintf(text, sizeof text, "- nothing on a plate settles it; measure one");
    put_words(l, text);
}

static void put_entry(FILE *stream, bool colour, const struct sag_motor_list *list, const struct sag_finding *group,
                      size_t count)
{
    enum {
        MOST_TAGS = 40,
        INDENT = 9
    };
    struct wrap l = {stream, INDENT, INDENT};
    char text[120];
    const char *word = sag_verdict_word((enum sag_verdict)group->verdict);
    fprintf(stream, "%s%-*s%s", colour ? verdict_colour(word) : "", INDENT, word, colour ? "\033[0m" : "");
    snprintf(text, sizeof text, "%s%s%s:", group->check->name, *case_word(group) ? ", " : "", case_word(group));
    put_words(&l, text);
    for (size_t i = 0; i < count && i < MOST_TAGS; i++)
        put_word(&l, subject_word(list, &group[i]));
    if (count > MOST_TAGS) {
        snprintf(text, sizeof text, "and %zu more", count - MOST_TAGS);
        put_words(&l, text);
    }
    put_word(&l, "-");
    put_words(&l, group->check->meaning);
    put_word(&l, "-");
    put_values(&l, group, count);
    snprintf(text, sizeof text, "[%s]", group->source);
    put_words(&l, text);
    put_next_step(&l, group);
    fputc('\n', stream);
}

enum sag_status sag_print_findings(FILE *stream, bool colour, const struct sag_motor_list *list,
                                   const struct sag_finding *findings, size_t count)
{
    struct sag_finding *sorted = malloc((count ? count : 1) * sizeof *sorted);
    if (!sorted)
        return SAG_NO_MEMORY;
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (!findings[i].repeats)
            sorted[kept++] = findings[i];
    count = kept;
    qsort(sorted, count, sizeof *sorted, by_weight);
    for (size_t i = 0; i < count;) {
        size_t n = 1;
        while (i + n < count && same_entry(&sorted[i], &sorted[i + n]))
            n++;
        put_entry(stream, colour, list, &sorted[i], n);
        i += n;
    }
    if (count == 0)
        fputs("nothing to report: every check is ok\n", stream);
    free(sorted);
    return SAG_OK;
}

void sag_print_cautions(FILE *stream)
{
    static const char *const cautions[] = {
        "Estimates from nameplates do not replace measurement or a licensed engineer; local code and the",
        "authority having jurisdiction decide. Opening panels and measuring on live parts is work for",
        "qualified people with lock-out and arc-flash precautions. A fire pump's circuit is never changed",
        "without the authority's approval. A motor that passes on paper is still watched (amps, temperature,",
        "vibration) on its first run at new volts.",
    };
    fputs("\nCautions\n", stream);
    for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
        fprintf(stream, "%s\n", cautions[i]);
}

/* The last of the answer's lines: what to find out next, by what open verdicts wait for. */
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/html.h"
#include "write/report_parts.h"

struct open_column {
    const char *column;
    size_t count;
};

static int by_count(const void *left, const void *right)
{
    const struct open_column *a = left, *b = right;
    return a->count != b->count ? (a->count > b->count ? -1 : 1) : strcmp(a->column, b->column);
}

/* Columns that open verdicts wait for; returns how many, the most wanted first. */
static size_t find_open(const struct sag_finding_list *all, struct open_column *out, size_t room)
{
    size_t count = 0;
    for (size_t i = 0; i < all->count; i++) {
        const char *column = all->items[i].missing;
        size_t k = 0;
        if (!*column)
            continue;
        while (k < count && strcmp(out[k].column, column) != 0)
            k++;
        if (k == room)
            continue;
        out[k].column = column;
        out[k].count = k < count ? out[k].count + 1 : 1;
        count = k < count ? count : count + 1;
    }
    qsort(out, count, sizeof *out, by_count);
    return count;
}

/* Motors in the order of the list, then boards; all that is said of one stands together. */
static int by_subject(const void *left, const void *right)
{
    const struct sag_finding *a = left, *b = right;
    if (!a->board != !b->board)
        return a->board ? 1 : -1;
    if (a->motor != b->motor)
        return a->motor < b->motor ? -1 : 1;
    return a->board ? strcmp(a->board, b->board) : 0;
}

/* Findings are sorted by_subject(). */
static void put_open_column(FILE *f, const struct sag_report_job *job, const struct sag_finding_list *all,
                            const char *column)
{
    struct tag_row tags = {f, job->plant->list, TAGS_IN_TEXT, 0};
    const struct sag_finding *last = NULL;
    put_sentence(f, "<code>%s</code> of ", (const char *const[]){column});
    for (size_t i = 0; i < all->count; i++) {
        const struct sag_finding *finding = &all->items[i];
        if (strcmp(finding->missing, column) != 0)
            continue;
        if (!last || by_subject(last, finding) != 0)
            put_subject_of(&tags, finding);
        last = finding;
    }
    end_tags(&tags);
}

static bool is_measured(const struct sag_report_job *job)
{
    for (size_t i = 0; i < job->plant->list->count; i++)
        if (job->notes->motors[i].band[SAG_CASE_MEASURED] < SAG_VERDICT_COUNT)
            return true;
    return false;
}

static const struct sag_finding *find_gap(const struct sag_report_job *job)
{
    const struct sag_finding_list *boards = &job->notes->findings[SAG_PART_SUPPLY];
    for (size_t i = 0; i < boards->count; i++)
        if (strcmp(boards->items[i].check->name, "measured_gap") == 0)
            return &boards->items[i];
    return NULL;
}

static void put_open_columns(FILE *f, const struct sag_report_job *job, const struct sag_finding_list *all)
{
    enum {
        COLUMNS = 32,
        SHOWN = 5
    };
    struct open_column columns[COLUMNS];
    size_t count = find_open(all, columns, COLUMNS);
    if (count)
        fputs("Verdicts that are open wait most for ", f);
    for (size_t i = 0; i < count && i < SHOWN; i++) {
        fputs(i ? "; " : "", f);
        put_open_column(f, job, all, columns[i].column);
    }
    fputs(count ? "." : "No open verdict waits for a fact of a plate.", f);
}

/* Where the range of a source is the default, verdicts of the low and high case hang on it. */
static void put_range(FILE *f, const struct sag_report_job *job)
{
    struct sag_qty low = job->plant->boards[0].of[SAG_CASE_LOW].volts, high = low;
    const char *source = "the supply";
    for (size_t i = 0; job->supply && i < job->supply->count && job->supply->nodes[i].parent < 0; i++) {
        sag_source_range(job->plant->tables, &job->supply->nodes[i], &low, &high);
        source = job->supply->nodes[i].id;
        if (low.origin == SAG_TABLE || high.origin == SAG_TABLE)
            break;
    }
    const struct sag_qty *end = low.origin == SAG_TABLE ? &low : &high;
    if (!sag_known(end) || end->origin != SAG_TABLE || !end->rule)
        return;
    put_sentence(
        f,
        "Ask the utility for the least and the most volts of %s: until then the range is the default of %s%s, and "
        "the verdicts of the low and the high case rest on it. ",
        (const char *const[]){source, end->rule->source, end->from_memory ? " (from memory)" : ""});
}

enum sag_status put_next(FILE *f, const struct sag_report_job *job)
{
    struct sag_finding_list all;
    const struct sag_finding *gap = find_gap(job);
    char apart[SAG_NUMBER_ROOM];
    enum sag_status status = gather_findings(job->notes, &all);
    if (status != SAG_OK)
        return status;
    if (all.count)
        qsort(all.items, all.count, sizeof *all.items, by_subject);
    fputs("<li><strong>What to measure or read next.</strong> ", f);
    put_range(f, job);
    if (!is_measured(job))
        fputs("The three line voltages at each motor control center, with the load of an ordinary day. ", f);
    if (gap)
        put_sentence(f,
                     "Why the volts measured at %s lie %s % from those computed: look at the source's volts of that "
                     "moment, the taps and the loads. ",
                     (const char *const[]){gap->board, sag_number_print(apart, gap->value.value, 1)});
    put_open_columns(f, job, &all);
    fputs("</li>\n", f);
    free(all.items);
    return SAG_OK;
}

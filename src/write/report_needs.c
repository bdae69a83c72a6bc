/* What the answer asks for: changes in protection and supply, and what to find out next. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/findings.h"
#include "write/gnuplot.h"
#include "write/html.h"
#include "write/report_parts.h"

enum {
    MOST_TAGS = 16,
    MOST_LINES = 8 /* the table of findings has them all */
};

/* --- protection -------------------------------------------------------------------------------------------------- */

static bool begins(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

static void put_device(FILE *f, uint8_t kind, const struct sag_qty *amps, const struct sag_qty *most)
{
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM];
    if (!sag_known(amps))
        return;
    put_sentence(f, "; the code asks for: %s %s A",
                 (const char *const[]){device_words(kind), sag_number_figures(a, amps->value, 4)});
    if (sag_known(most) && most->value > amps->value)
        put_sentence(f, ", at most %s A", (const char *const[]){sag_number_figures(b, most->value, 4)});
}

static void put_wire_hint(FILE *f, const struct sag_wire *wire)
{
    char words[60], amps[SAG_NUMBER_ROOM];
    if (wire->size)
        put_sentence(
            f, "; the code asks for: wire %s, %s A",
            (const char *const[]){sag_wire_words(wire, words, sizeof words), sag_number_print(amps, wire->amps, 0)});
}

/* What would stand there in its place. */
static void put_cure_of_motor(FILE *f, const struct sag_motor_size *m, const char *check)
{
    char amps[SAG_NUMBER_ROOM];
    if (begins(check, "device") || begins(check, "peak"))
        put_device(f, m->kind, &m->device[m->kind].amps, &m->device[m->kind].most);
    else if (begins(check, "wire"))
        put_wire_hint(f, &m->wire);
    else if (begins(check, "overload") && sag_known(&m->overload))
        put_sentence(f, "; the code asks for: %s A",
                     (const char *const[]){sag_number_figures(amps, m->overload.value, 4)});
}

static void put_cure_of_feeder(FILE *f, const struct sag_plant_size *size, const char *id, const char *check)
{
    for (size_t i = 0; i < size->feeder_count; i++) {
        const struct sag_feeder_size *feeder = &size->feeders[i];
        const struct sag_transformer_size *t = size->transformers ? &size->transformers[i] : NULL;
        if (strcmp(feeder->id, id) != 0)
            continue;
        if (begins(check, "feeder_wire") || begins(check, "secondary_wire"))
            put_wire_hint(f, &feeder->wire);
        else if (begins(check, "feeder_device"))
            put_device(f, feeder->kind, &feeder->device, &feeder->device_most);
        else if (t && t->sized && (begins(check, "primary") || begins(check, "secondary"))) {
            enum sag_winding w = begins(check, "primary") ? SAG_PRIMARY : SAG_SECONDARY;
            put_device(f, t->kind[w], &t->device[w], &t->most[w]);
        }
    }
}

static void put_change(FILE *f, const struct sag_report_job *job, const struct sag_finding *finding)
{
    struct finding_words words;
    const char *which = finding_case(finding);
    word_findings(finding, 1, &words);
    put_sentence(f, *which ? "<li><b>%s</b>: %s (%s, limit %s, case %s)" : "<li><b>%s</b>: %s (%s, limit %s)",
                 (const char *const[]){finding_subject(job->plant->list, finding), plain_words(finding->check),
                                       words.values, words.limit, which});
    if (finding->board)
        put_cure_of_feeder(f, job->schedule->size, finding->board, finding->check->name);
    else
        put_cure_of_motor(f, &job->schedule->size->motors[finding->motor], finding->check->name);
    fputs("</li>\n", f);
}

/* What is done first: the fire pump, boards and feeders, devices, relays, wires. */
static int rank_of(const struct sag_report_job *job, const struct sag_finding *finding)
{
    const char *check = finding->check->name;
    if (!finding->board && job->plant->list->plates[finding->motor].choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP)
        return 0;
    return finding->board                                     ? 1
           : begins(check, "device") || begins(check, "peak") ? 2
           : begins(check, "overload")                        ? 3
                                                              : 4;
}

enum sag_status put_protection(FILE *f, const struct sag_report_job *job)
{
    enum {
        RANKS = 5
    };
    struct sag_finding_list all = {0};
    enum sag_status status = gather_findings(job->notes, SAG_PART_SUPPLY, SAG_PART_SUPPLY + 1, &all);
    struct sag_finding_list circuits = {0};
    if (status == SAG_OK)
        status = gather_findings(job->notes, SAG_PART_PROTECT, SAG_REPORT_PARTS, &circuits);
    size_t fails = 0, shown = 0;
    const struct sag_finding_list *const lists[] = {&all, &circuits};
    for (int list = 0; list < 2; list++)
        for (size_t i = 0; i < lists[list]->count; i++)
            fails += lists[list]->items[i].verdict == SAG_VERDICT_FAIL;
    fputs("<li><strong>What has to change in protection and supply.</strong> ", f);
    fputs(fails ? "These do not agree with the code or with their own rating:<ul>"
                : "Nothing that the files say is there breaks a rule that was looked at.",
          f);
    for (int rank = 0; rank < RANKS; rank++)
        for (int list = 0; list < 2; list++)
            for (size_t i = 0; i < lists[list]->count; i++) {
                const struct sag_finding *finding = &lists[list]->items[i];
                bool due = finding->verdict == SAG_VERDICT_FAIL && rank_of(job, finding) == rank;
                if (due && shown++ < MOST_LINES)
                    put_change(f, job, finding);
            }
    if (fails > MOST_LINES)
        fprintf(f, "<li>and %zu more; see the findings</li>\n", fails - MOST_LINES);
    fputs(fails ? "</ul></li>\n" : "</li>\n", f);
    free(all.items);
    free(circuits.items);
    return status;
}

/* --- what to find out next --------------------------------------------------------------------------------------- */

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

static void put_open_column(FILE *f, const struct sag_report_job *job, const struct sag_finding_list *all,
                            const char *column)
{
    struct tag_row tags = {f, job->plant->list, MOST_TAGS, 0};
    put_sentence(f, "<code>%s</code> of ", (const char *const[]){column});
    size_t last = SIZE_MAX;
    const char *board = NULL;
    for (size_t i = 0; i < all->count; i++) {
        const struct sag_finding *finding = &all->items[i];
        bool again = finding->board ? finding->board == board : finding->motor == last;
        if (strcmp(finding->missing, column) != 0 || again)
            continue;
        put_subject_of(&tags, finding);
        last = finding->board ? SIZE_MAX : finding->motor;
        board = finding->board;
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

static int by_motor(const void *left, const void *right)
{
    const struct sag_finding *a = left, *b = right;
    return a->motor != b->motor ? (a->motor < b->motor ? -1 : 1) : 0;
}

void put_next(FILE *f, const struct sag_report_job *job, struct sag_finding_list *all)
{
    enum {
        COLUMNS = 32,
        SHOWN = 5
    };
    struct open_column columns[COLUMNS];
    const struct sag_finding *gap = find_gap(job);
    char apart[SAG_NUMBER_ROOM];
    if (all->count)
        qsort(all->items, all->count, sizeof *all->items, by_motor);
    size_t count = find_open(all, columns, COLUMNS);
    fputs("<li><strong>What to measure or read next.</strong> ", f);
    put_range(f, job);
    if (!is_measured(job))
        fputs("The three line voltages at each motor control center, with the load of an ordinary day. ", f);
    if (gap)
        put_sentence(f,
                     "Why the volts measured at %s lie %s % from those computed: look at the source's volts of that "
                     "moment, the taps and the loads. ",
                     (const char *const[]){gap->board, sag_number_print(apart, gap->value.value, 1)});
    if (count)
        fputs("Verdicts that are open wait most for ", f);
    for (size_t i = 0; i < count && i < SHOWN; i++) {
        fputs(i ? "; " : "", f);
        put_open_column(f, job, all, columns[i].column);
    }
    fputs(count ? "." : "No open verdict waits for a fact of a plate.", f);
    fputs("</li>\n", f);
}

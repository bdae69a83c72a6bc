/* The fourth of the answer's lines: what has to change in protection and supply. */
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
    MOST_LINES = 8, /* the table of findings has them all */
    RANKS = 5       /* see rank_of() */
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

/* What a start fails in stands with the starts. */
static bool is_due(const struct sag_report_job *job, const struct sag_finding *finding, int rank)
{
    return finding->verdict == SAG_VERDICT_FAIL && !begins(finding->check->name, "fire_pump_") &&
           (rank < 0 || rank_of(job, finding) == rank);
}

static size_t count_due(const struct sag_report_job *job, const struct sag_finding_list *list)
{
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++)
        count += is_due(job, &list->items[i], -1);
    return count;
}

void put_protection(FILE *f, const struct sag_report_job *job)
{
    const struct sag_finding_list *const lists[] = {&job->notes->findings[SAG_PART_SUPPLY],
                                                    &job->notes->findings[SAG_PART_PROTECT]};
    size_t fails = count_due(job, lists[0]) + count_due(job, lists[1]), shown = 0;
    fputs("<li><strong>What has to change in protection and supply.</strong> ", f);
    fputs(fails ? "These do not agree with the code or with their own rating:<ul>"
                : "Nothing that the files say is there breaks a rule that was looked at.",
          f);
    for (int rank = 0; rank < RANKS; rank++)
        for (int list = 0; list < 2; list++)
            for (size_t i = 0; i < lists[list]->count; i++)
                if (is_due(job, &lists[list]->items[i], rank) && shown++ < MOST_LINES)
                    put_change(f, job, &lists[list]->items[i]);
    if (fails > MOST_LINES)
        fprintf(f, "<li>and %zu more; see the findings</li>\n", fails - MOST_LINES);
    fputs(fails ? "</ul></li>\n" : "</li>\n", f);
}

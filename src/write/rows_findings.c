/* Findings: a row each for machines, grouped for people. */
#include <math.h>
#include <stdlib.h>

#include "write/findings.h"
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

void sag_finding_row(const struct sag_motor_list *list, const struct sag_finding *f, struct sag_value *v)
{
    v[AT_SUBJECT] = (struct sag_value){NAN, finding_subject(list, f)};
    v[AT_CHECK] = (struct sag_value){NAN, f->check->name};
    v[AT_CASE] = (struct sag_value){NAN, finding_case(f)};
    v[AT_VALUE] = (struct sag_value){f->value.value, ""};
    v[AT_LIMIT] = (struct sag_value){f->limit, ""};
    v[AT_UNIT] = (struct sag_value){NAN, f->check->unit};
    v[AT_VERDICT] = (struct sag_value){NAN, sag_verdict_word((enum sag_verdict)f->verdict)};
    v[AT_SOURCE] = (struct sag_value){NAN, f->source};
    v[AT_MISSING] = (struct sag_value){NAN, f->missing};
}

/* "...," while more of the entry comes. */
static void put_part(struct wrap *l, const char *text)
{
    char part[208];
    if (*text)
        snprintf(part, sizeof part, "%s,", text);
    put_words(l, *text ? part : "");
}

static void put_figures(struct wrap *l, const struct finding_words *words, const struct sag_finding *entry)
{
    char text[120];
    put_part(l, words->values);
    put_part(l, words->bounds);
    put_part(l, words->watched);
    snprintf(text, sizeof text, "limit %s", words->limit);
    put_words(l, text);
    snprintf(text, sizeof text, "[%s]", entry->source);
    put_words(l, text);
    put_words(l, *words->next ? "-" : "");
    put_words(l, words->next);
}

static void put_entry(FILE *stream, bool colour, const struct sag_motor_list *list, const struct sag_finding *entry,
                      size_t count)
{
    enum {
        MOST_TAGS = 40,
        INDENT = 9
    };
    struct wrap l = {stream, INDENT, INDENT};
    struct finding_words words;
    char text[120];
    const char *word = sag_verdict_word((enum sag_verdict)entry->verdict), *which = finding_case(entry);
    fprintf(stream, "%s%-*s%s", colour ? verdict_colour(word) : "", INDENT, word, colour ? "\033[0m" : "");
    snprintf(text, sizeof text, "%s%s%s:", entry->check->name, *which ? ", " : "", which);
    put_words(&l, text);
    for (size_t i = 0; i < count && i < MOST_TAGS; i++)
        put_word(&l, finding_subject(list, &entry[i]));
    if (count > MOST_TAGS) {
        snprintf(text, sizeof text, "and %zu more", count - MOST_TAGS);
        put_words(&l, text);
    }
    put_word(&l, "-");
    put_words(&l, entry->check->meaning);
    put_word(&l, "-");
    word_findings(entry, count, &words);
    put_figures(&l, &words, entry);
    fputc('\n', stream);
}

enum sag_status sag_print_findings(FILE *stream, bool colour, const struct sag_motor_list *list,
                                   const struct sag_finding *findings, size_t count)
{
    struct sorted_findings sorted;
    enum sag_status status = sort_findings(findings, count, &sorted);
    for (size_t i = 0, n; status == SAG_OK && (n = entry_length(&sorted, i)) > 0; i += n)
        put_entry(stream, colour, list, &sorted.items[i], n);
    if (status == SAG_OK && sorted.count == 0)
        fputs("nothing to report: every check is ok\n", stream);
    free(sorted.items);
    return status;
}

const char *sag_caution_words(void)
{
    return "Estimates from nameplates do not replace measurement or a licensed engineer; local code and the\n"
           "authority having jurisdiction decide. Opening panels and measuring on live parts is work for\n"
           "qualified people with lock-out and arc-flash precautions. A fire pump's circuit is never changed\n"
           "without the authority's approval. A motor that passes on paper is still watched (amps, temperature,\n"
           "vibration) on its first run at new volts.\n";
}

void sag_print_cautions(FILE *stream)
{
    fprintf(stream, "\nCautions\n%s", sag_caution_words());
}

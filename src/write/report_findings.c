/* All findings in one table, and the pieces that lists of motors are written with. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "write/escape.h"
#include "write/findings.h"
#include "write/html.h"
#include "write/report_parts.h"

/* A short name stays on one line, a long one may be broken anywhere. */
static void put_name(struct tag_row *row, const char *name)
{
    const int shortish = 24;
    if (row->count++ >= row->most)
        return;
    fputs(row->count > 1 ? ", " : "", row->stream);
    put_sentence(row->stream, text_width(name) <= shortish ? "<span class=\"t\">%s</span>" : "%s", &name);
}

void put_tag_of(struct tag_row *row, size_t motor)
{
    put_name(row, row->list->plates[motor].tag);
}

void put_subject_of(struct tag_row *row, const struct sag_finding *finding)
{
    put_name(row, finding_subject(row->list, finding));
}

void end_tags(struct tag_row *row)
{
    if (row->count > row->most)
        fprintf(row->stream, " and %zu more", row->count - row->most);
}

static int compare_statement(const struct sag_finding *a, const struct sag_finding *b)
{
    if (a->check != b->check)
        return sag_check_place(a->check) < sag_check_place(b->check) ? -1 : 1;
    if (a->which != b->which)
        return a->which < b->which ? -1 : 1;
    if (a->motor != b->motor)
        return a->motor < b->motor ? -1 : 1;
    return a->board && b->board ? strcmp(a->board, b->board) : (a->board != NULL) - (b->board != NULL);
}

/* Two commands may say the same of the same: the plate's amps, and a fire pump's volts. The worse of both counts. */
static int by_statement(const void *left, const void *right)
{
    const struct sag_finding *a = left, *b = right;
    int statement = compare_statement(a, b);
    if (statement)
        return statement;
    if (a->verdict != b->verdict)
        return a->verdict > b->verdict ? -1 : 1;
    return (a->value.value > b->value.value) - (a->value.value < b->value.value);
}

enum sag_status gather_findings(const struct sag_report_notes *notes, struct sag_finding_list *out)
{
    size_t room = 1, kept = 0;
    for (int part = 0; part < SAG_REPORT_PARTS; part++)
        room += notes->findings[part].count;
    *out = (struct sag_finding_list){malloc(room * sizeof *out->items), 0, room};
    if (!out->items)
        return SAG_NO_MEMORY;
    for (int part = 0; part < SAG_REPORT_PARTS; part++) {
        const struct sag_finding_list *list = &notes->findings[part];
        if (list->count)
            memcpy(out->items + out->count, list->items, list->count * sizeof *list->items);
        out->count += list->count;
    }
    qsort(out->items, out->count, sizeof *out->items, by_statement);
    for (size_t i = 0; i < out->count; i++)
        if (kept == 0 || compare_statement(&out->items[kept - 1], &out->items[i]) != 0)
            out->items[kept++] = out->items[i];
    out->count = kept;
    return SAG_OK;
}

void begin_prose(FILE *f, const char *caption, const char *const heads[], size_t count)
{
    begin_table(f, "prose", caption);
    for (size_t i = 0; i < count; i++)
        put_sentence(f, "<th scope=\"col\">%s</th>", &heads[i]);
    begin_rows(f);
}

void put_prose(FILE *f, const char *const cells[], size_t count)
{
    fputs("<tr>", f);
    for (size_t i = 0; i < count; i++)
        put_sentence(f, i == 0 ? "<th scope=\"row\">%s</th>" : "<td>%s</td>", &cells[i]);
    fputs("</tr>\n", f);
}

void end_prose(FILE *f)
{
    end_table(f);
}

/* A row of the table: one check, verdict, limit and source, whatever the cases. */
static size_t row_length(const struct sorted_findings *sorted, size_t first)
{
    const struct sag_finding *a = &sorted->items[first];
    size_t n = 0;
    for (; first + n < sorted->count; n++) {
        const struct sag_finding *b = &sorted->items[first + n];
        bool same = b->check == a->check && b->verdict == a->verdict && b->limit == a->limit && b->watch == a->watch;
        same = same && (strcmp(a->check->unit, "A") != 0 || b->value.value == a->value.value); /* sizes one by one */
        if (!same || strcmp(b->source, a->source) != 0 || strcmp(b->missing, a->missing) != 0)
            break;
    }
    return n;
}

void put_subjects(struct tag_row *tags, const struct sag_finding *row, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t k = 0;
        while (k < i && (row[k].motor != row[i].motor || row[k].board != row[i].board))
            k++;
        if (k == i)
            put_subject_of(tags, &row[i]);
    }
    end_tags(tags);
}

static void put_cases(FILE *f, const struct sag_finding *row, size_t count)
{
    const char *between = "";
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        size_t i = 0;
        while (i < count && row[i].which != c)
            i++;
        if (i == count)
            continue;
        fprintf(f, "%s%s", between, sag_case_word((enum sag_case)c));
        between = "<br>";
    }
}

static void put_row(FILE *f, const struct sag_report_job *job, const struct sag_finding *row, size_t count)
{
    enum {
        MOST_TAGS = 40
    };
    struct tag_row tags = {f, job->plant->list, MOST_TAGS, 0};
    struct finding_words words;
    word_findings(row, count, &words);
    fputs("<tr><td class=\"k\">", f);
    put_verdict(f, sag_verdict_word((enum sag_verdict)row->verdict));
    put_sentence(f, "</td><th scope=\"row\">%s <code>%s</code></th><td class=\"about\">",
                 (const char *const[]){row->check->meaning, row->check->name});
    put_subjects(&tags, row, count);
    fputs("</td><td class=\"k\">", f);
    put_cases(f, row, count);
    put_sentence(f, "</td><td>%s%s%s%s%s</td><td>%s<br><span class=\"soft\">%s</span></td><td>%s</td></tr>\n",
                 (const char *const[]){words.values, *words.bounds ? "; " : "", words.bounds,
                                       *words.watched ? "; " : "", words.watched, words.limit, row->source,
                                       words.next});
}

static void put_entries(FILE *f, const struct sag_report_job *job, const struct sorted_findings *sorted)
{
    static const char *const heads[] = {"verdict", "check", "about", "case", "found", "limit and source", "next"};
    if (sorted->count == 0) {
        fputs("<p>Every check is ok.</p>\n", f);
        return;
    }
    begin_prose(f, "Findings, the worst first; what is ok is not listed", heads, sizeof heads / sizeof *heads);
    for (size_t i = 0, n; (n = row_length(sorted, i)) > 0; i += n)
        put_row(f, job, &sorted->items[i], n);
    end_prose(f);
}

enum sag_status put_all_findings(FILE *f, const struct sag_report_job *job)
{
    struct sag_finding_list all;
    struct sorted_findings sorted = {0};
    enum sag_status status = gather_findings(job->notes, &all);
    status = status == SAG_OK ? sort_findings(all.items, all.count, &sorted) : status;
    begin_section(f, 2, "findings", "Findings");
    if (status == SAG_OK)
        put_entries(f, job, &sorted);
    end_section(f);
    free(all.items);
    free(sorted.items);
    return status;
}

/* The question and the answer in five lines, for whoever reads no further. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/findings.h"
#include "write/html.h"
#include "write/report_parts.h"

enum {
    MOST_LINES = 8 /* of one kind; the table of findings has them all */
};

/* --- the question ------------------------------------------------------------------------------------------------ */

static void put_question(FILE *f, const struct sag_report_job *job)
{
    const struct sag_motor_list *list = job->plant->list;
    char low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM], count[24];
    double least = INFINITY, most = 0;
    for (size_t i = 0; i < list->count; i++)
        for (int k = 0; k < SAG_VOLTS_OPTIONS; k++) {
            double volts = list->plates[i].volts_options[k];
            least = volts > 0 ? fmin(least, volts) : least;
            most = fmax(most, volts);
        }
    snprintf(count, sizeof count, "%zu", list->count);
    sag_number_figures(low, least, 5);
    sag_number_figures(high, most, 5);
    fputs("<p class=\"question\">The list holds ", f);
    if (list->count == 1)
        put_sentence(f, "one motor with a plate for %s V. May it", (const char *const[]){high});
    else if (least == most)
        put_sentence(f, "%s motors with plates for %s V. Which of them may", (const char *const[]){count, high});
    else
        put_sentence(f, "%s motors with plates for %s to %s V. Which of them may",
                     (const char *const[]){count, low, high});
    fputs(" run on this supply as it is; does each start while the rest runs; and what wires, overload relays and "
          "devices "
          "do their circuits need?</p>\n",
          f);
    fputs(
        "<p class=\"soft\">Cases: <b>nominal</b>, the supply as it should be, each motor at its own load; <b>low</b>, "
        "the least of its range, every motor at full load; <b>high</b>, the most of its range, nothing else running; "
        "<b>measured</b>, as measured, where it was.</p>\n",
        f);
}

/* --- volts ------------------------------------------------------------------------------------------------------- */

/* SAG_VERDICT_COUNT: not judged, of those that the report was asked for. */
static bool has_verdict(const struct sag_motor_note *note, enum sag_report_part part, enum sag_verdict verdict)
{
    return note->looked_at && note->verdict[part] == verdict;
}

static size_t count_of(const struct sag_report_job *job, enum sag_report_part part, enum sag_verdict verdict)
{
    size_t n = 0;
    for (size_t i = 0; i < job->plant->list->count; i++)
        n += has_verdict(&job->notes->motors[i], part, verdict);
    return n;
}

static size_t count_looked_at(const struct sag_report_job *job)
{
    size_t n = 0;
    for (size_t i = 0; i < job->plant->list->count; i++)
        n += job->notes->motors[i].looked_at;
    return n;
}

static void put_those(FILE *f, const struct sag_report_job *job, enum sag_report_part part, enum sag_verdict verdict)
{
    struct tag_row tags = {f, job->plant->list, TAGS_IN_TEXT, 0};
    for (size_t i = 0; i < job->plant->list->count; i++)
        if (has_verdict(&job->notes->motors[i], part, verdict))
            put_tag_of(&tags, i);
    end_tags(&tags);
}

/* "In band: nominal 27 of 28, ..." */
static void put_band_counts(FILE *f, const struct sag_report_job *job)
{
    const char *between = " In band: ";
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        size_t inside = 0, all = 0;
        for (size_t i = 0; i < job->plant->list->count; i++) {
            uint8_t band = job->notes->motors[i].band[c];
            all += band < SAG_VERDICT_COUNT;
            inside += band == SAG_VERDICT_OK || band == SAG_VERDICT_WATCH;
        }
        if (all == 0)
            continue;
        fprintf(f, "%s%s %zu of %zu", between, sag_case_word((enum sag_case)c), inside, all);
        between = ", ";
    }
    fputs(*between == ',' ? "." : "", f);
}

/* " Not settled: 2 (FP-1, SPARE)." */
static void put_left_over(FILE *f, const struct sag_report_job *job, const char *words, enum sag_verdict verdict)
{
    size_t count = count_of(job, SAG_PART_CHECK, verdict);
    if (count == 0)
        return;
    fprintf(f, " %s: %zu (", words, count);
    put_those(f, job, SAG_PART_CHECK, verdict);
    fputs(").", f);
}

static void put_staying(FILE *f, const struct sag_report_job *job)
{
    size_t ok = count_of(job, SAG_PART_CHECK, SAG_VERDICT_OK), watch = count_of(job, SAG_PART_CHECK, SAG_VERDICT_WATCH);
    fprintf(f, "<li><strong>Which may stay.</strong> %zu of %zu motors may stay as %s", ok + watch,
            count_looked_at(job), ok + watch == 1 ? "it is" : "they are");
    if (ok + watch) {
        fputs(": ", f);
        put_those(f, job, SAG_PART_CHECK, SAG_VERDICT_OK);
        fputs(ok && watch ? "; " : "", f);
        put_those(f, job, SAG_PART_CHECK, SAG_VERDICT_WATCH);
        fputs(watch ? " (watched)" : "", f);
    }
    fputs(ok + watch == 1  ? ". It passes every check of volts, amps and heat in all cases looked at."
          : ok + watch > 1 ? ". They pass every check of volts, amps and heat in all cases looked at."
                           : ".",
          f);
    put_band_counts(f, job);
    put_left_over(f, job, "Not settled", SAG_VERDICT_UNKNOWN);
    put_left_over(f, job, "Not judged, since no volts are known at their board", SAG_VERDICT_COUNT);
    fputs("</li>\n", f);
}

/* ", case high (24), measured (4)" of a row of findings of one check; nothing where they are of no case. */
static void put_cases(FILE *f, const struct sag_finding *row, size_t count)
{
    size_t of[SAG_CASE_COUNT] = {0};
    const char *between = ", case ";
    bool several = false;
    for (size_t i = 0; i < count; i++)
        if (row[i].which < SAG_CASE_COUNT) {
            of[row[i].which]++;
            several = several || row[i].which != row[0].which;
        }
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        if (of[c] == 0)
            continue;
        fprintf(f, "%s%s", between, sag_case_word((enum sag_case)c));
        if (several)
            fprintf(f, " (%zu)", of[c]);
        between = ", ";
    }
}

/* "terminal volts against the upper edge of the band, case high: LP-1, ... (110.7 to 117.2 % of plate volts, limit
   110)" */
static void put_check_line(FILE *f, const struct sag_report_job *job, const struct sag_finding *row, size_t count)
{
    struct tag_row tags = {f, job->plant->list, TAGS_IN_TEXT, 0};
    struct finding_words words;
    bool one_limit = true;
    for (size_t i = 1; i < count; i++)
        one_limit = one_limit && row[i].limit == row[0].limit;
    put_html(f, plain_words(row->check));
    put_cases(f, row, count);
    fputs(": ", f);
    put_subjects(&tags, row, count);
    word_findings(row, count, &words);
    put_sentence(f, one_limit ? " (%s, limit %s)" : " (%s)", (const char *const[]){words.values, words.limit});
}

static bool has_fail(const struct sorted_findings *sorted, size_t at)
{
    return at < sorted->count && sorted->items[at].verdict == SAG_VERDICT_FAIL;
}

/* Fails of one check stand together. */
static size_t same_check(const struct sorted_findings *sorted, size_t first)
{
    size_t n = 0;
    while (has_fail(sorted, first + n) && sorted->items[first + n].check == sorted->items[first].check)
        n++;
    return n;
}

/* What fails of a part, a line a check; they stand first. */
static void put_fails(FILE *f, const struct sag_report_job *job, const struct sorted_findings *sorted)
{
    fputs("<ul>", f);
    for (size_t i = 0, n; (n = same_check(sorted, i)) > 0; i += n) {
        fputs("<li>", f);
        put_check_line(f, job, &sorted->items[i], n);
        fputs("</li>\n", f);
    }
    fputs("</ul>", f);
}

static void put_taps(FILE *f, const struct sag_report_job *job)
{
    const struct sag_tap_advice *a = job->taps;
    char now[SAG_NUMBER_ROOM], best[SAG_NUMBER_ROOM];
    const char *between = "";
    for (size_t i = 0; i < a->tap_count; i++) {
        const struct sag_tap *t = &a->taps[i];
        if (t->best == t->now)
            continue;
        fputs(between, f);
        put_sentence(f, "the tap of %s at %s % instead of %s %",
                     (const char *const[]){job->grid->nodes[t->node].id, sag_number_print(best, 100 * t->best, 1),
                                           sag_number_print(now, 100 * t->now, 1)});
        between = ", ";
    }
}

static void put_tap_hint(FILE *f, const struct sag_report_job *job)
{
    const struct sag_tap_advice *a = job->taps;
    struct tag_row tags = {f, job->plant->list, TAGS_IN_TEXT, 0};
    if (!a || a->in_band_best <= a->in_band_now)
        return;
    fputs("One change helps most: ", f);
    put_taps(f, job);
    fprintf(f, "; then %zu of %zu stay in band in the nominal, low and high case, against %zu now.", a->in_band_best,
            a->motors, a->in_band_now);
    fputs(a->lost_count ? " Outside even then: " : "", f);
    for (size_t i = 0; i < a->lost_count; i++)
        put_tag_of(&tags, a->lost[i]);
    end_tags(&tags);
    fputs(a->lost_count ? "." : "", f);
    fputs(
        " Lower volts leave starts less, and the starts of this report were not run at it: put the tap into the supply "
        "file and make the report again before it is set.",
        f);
}

static void put_leaving(FILE *f, const struct sag_report_job *job, const struct sorted_findings *sorted)
{
    size_t fails = count_of(job, SAG_PART_CHECK, SAG_VERDICT_FAIL);
    fputs("<li><strong>Which may not, and why.</strong> ", f);
    if (fails == 0)
        fputs("None: no motor fails.", f);
    else
        fprintf(f, "%zu fail%s in at least one case:", fails, fails == 1 ? "s" : "");
    if (fails)
        put_fails(f, job, sorted);
    put_tap_hint(f, job);
    fputs("</li>\n", f);
}

/* --- starts ------------------------------------------------------------------------------------------------------ */

static void put_hardest(FILE *f, const struct sag_report_job *job)
{
    const struct sag_report_notes *n = job->notes;
    const struct sag_start_case *c = &n->hardest_start;
    char dip[SAG_NUMBER_ROOM];
    if (n->hardest == SIZE_MAX || !job->supply) /* volts that are typed do not dip */
        return;
    const char *tag = job->plant->list->plates[n->hardest].tag, *which = sag_case_word(n->hardest_case);
    sag_number_print(dip, 100 * (1 - c->board_lowest.value / c->likely.board_before), 1);
    put_sentence(f,
                 c->collapses ? "The worst dip is that of %s, case %s: the supply does not carry it."
                              : "The deepest dip is that of %s, case %s: %s % at its board.",
                 (const char *const[]){tag, which, dip});
}

static void put_fire_pumps(FILE *f, const struct sag_report_job *job)
{
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM], c[SAG_NUMBER_ROOM], d[SAG_NUMBER_ROOM];
    sag_number_figures(b, 100 * SAG_FIRE_PUMP_START, 3);
    sag_number_figures(d, 100 * SAG_FIRE_PUMP_RUN, 3);
    for (size_t i = 0; i < job->notes->fire_count && i < MOST_LINES; i++) {
        const struct sag_fire_note *fire = &job->notes->fire[i];
        bool enough = fire->start_share >= SAG_FIRE_PUMP_START && fire->run_share >= SAG_FIRE_PUMP_RUN;
        sag_number_print(a, 100 * fire->start_share, 1);
        sag_number_print(c, 100 * fire->run_share, 1);
        put_sentence(f,
                     enough ? " Fire pump %s starts and runs with the volts that NFPA 70-2023 695.7 asks for"
                            : " Fire pump %s does not get the volts that NFPA 70-2023 695.7 asks for",
                     (const char *const[]){job->plant->list->plates[fire->motor].tag});
        put_sentence(f,
                     ": in the worst case %s % of board volts at its controller while it starts (at least %s), %s % of "
                     "plate volts running (at least %s).",
                     (const char *const[]){a, b, c, d});
    }
}

static void put_starts(FILE *f, const struct sag_report_job *job, const struct sorted_findings *sorted)
{
    size_t fails = count_of(job, SAG_PART_START, SAG_VERDICT_FAIL);
    size_t open = count_of(job, SAG_PART_START, SAG_VERDICT_UNKNOWN);
    fprintf(f, "<li><strong>The starts, and the worst.</strong> Of %zu starts %zu fail%s, %zu %s not settled.",
            job->starts_run, fails, fails == 1 ? "s" : "", open, open == 1 ? "is" : "are");
    if (job->starts_run < job->starts_all)
        fprintf(f, " %zu smaller ones were not run.", job->starts_all - job->starts_run);
    if (fails)
        put_fails(f, job, sorted);
    put_hardest(f, job);
    put_fire_pumps(f, job);
    fputs("</li>\n", f);
}

/* --- all --------------------------------------------------------------------------------------------------------- */

static enum sag_status sort_part(const struct sag_report_job *job, enum sag_report_part part,
                                 struct sorted_findings *out)
{
    const struct sag_finding_list *list = &job->notes->findings[part];
    return sort_findings(list->items, list->count, out);
}

enum sag_status put_answer(FILE *f, const struct sag_report_job *job)
{
    struct sorted_findings checks = {0}, starts = {0};
    enum sag_status status = sort_part(job, SAG_PART_CHECK, &checks);
    status = status == SAG_OK ? sort_part(job, SAG_PART_START, &starts) : status;
    if (status == SAG_OK) {
        begin_section(f, 2, "answer", "The question and the answer");
        put_question(f, job);
        fputs("<ol class=\"answer\">\n", f);
        put_staying(f, job);
        put_leaving(f, job, &checks);
        put_starts(f, job, &starts);
        put_protection(f, job);
        status = put_next(f, job);
        fputs("</ol>\n", f);
        end_section(f);
    }
    free(checks.items);
    free(starts.items);
    return status;
}

/* What the report rests on: what stands in for blanks and what it moves, clauses, documents. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/gnuplot.h"
#include "write/html.h"
#include "write/report_parts.h"

/* --- assumptions ------------------------------------------------------------------------------------------------- */

struct swing {
    char fact[80], amps[80], torque[80];
};

static void word_range(double low, double high, const char *unit, char *out, size_t room)
{
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM];
    if (isnan(low) || isnan(high))
        return;
    sag_number_figures(a, low, 4);
    sag_number_figures(b, high, 4);
    if (strcmp(a, b) == 0) {
        snprintf(out, room, "%s%s%s either way", a, *unit ? " " : "", unit);
        return;
    }
    snprintf(out, room, "%s to %s%s%s", sag_number_figures(a, low, 4), sag_number_figures(b, high, 4), *unit ? " " : "",
             unit);
}

static enum sag_case first_case(const struct sag_result *r)
{
    int c = 0;
    while (c + 1 < SAG_CASE_COUNT && !r->of[c].present)
        c++;
    return (enum sag_case)c;
}

/* The largest motor that leaves the fact open, judged with it at both its bounds. */
static enum sag_status find_swing(const struct sag_report_job *job, enum sag_fact fact, struct swing *out)
{
    struct sag_sensitivities found = {.count = 0};
    struct sag_result *r = calloc(1, sizeof *r);
    const struct sag_open_fact *open = &job->notes->open[fact];
    *out = (struct swing){"", "not part of the volts check", ""};
    enum sag_status status = r ? sag_judge_motors(job->plant, &open->largest, 1, r) : SAG_NO_MEMORY;
    if (status == SAG_OK) {
        const struct sag_qty *q = &r->motor.fact[fact];
        status = sag_find_sensitivity(job->plant, r, first_case(r), &found);
        const char *column = sag_motor_column_of(fact), *end = column ? strrchr(column, '_') : NULL;
        bool percent = end && strcmp(end, "_pct") == 0;
        double scale = percent ? 100 : 1;
        word_range(scale * q->low, scale * q->high, percent ? "%" : sag_fact_words(fact)->unit, out->fact,
                   sizeof out->fact);
        for (size_t i = 0; i < found.count; i++)
            if (found.of[i].fact == fact) {
                word_range(found.of[i].amps_low, found.of[i].amps_high, "A", out->amps, sizeof out->amps);
                word_range(found.of[i].torque_low, found.of[i].torque_high, "N m", out->torque, sizeof out->torque);
            }
    }
    free(r);
    return status;
}

static enum sag_status put_fact(FILE *f, const struct sag_report_job *job, enum sag_fact fact)
{
    const struct sag_open_fact *open = &job->notes->open[fact];
    const char *column = sag_motor_column_of(fact);
    struct swing swing;
    char motors[24];
    enum sag_status status = find_swing(job, fact, &swing);
    if (status != SAG_OK)
        return status;
    snprintf(motors, sizeof motors, "%zu", open->motors);
    put_prose(f,
              (const char *const[]){column ? column : "", sag_fact_words(fact)->words, motors,
                                    job->plant->list->plates[open->largest].tag, swing.fact, swing.amps, swing.torque},
              7);
    return SAG_OK;
}

static enum sag_status put_facts(FILE *f, const struct sag_report_job *job)
{
    static const char *const heads[] = {"column",
                                        "what it is",
                                        "motors without it",
                                        "largest",
                                        "taken there as",
                                        "its running amps then",
                                        "its starting torque then"};
    enum sag_status status = SAG_OK;
    size_t count = 0;
    for (int fact = 0; fact < SAG_FACT_COUNT; fact++)
        count += job->notes->open[fact].motors > 0 && sag_motor_column_of((enum sag_fact)fact);
    if (count == 0)
        return SAG_OK;
    begin_prose(f, "Blank in the motor list; each at both its bounds, nominal case", heads,
                sizeof heads / sizeof *heads);
    for (int fact = 0; fact < SAG_FACT_COUNT && status == SAG_OK; fact++)
        if (job->notes->open[fact].motors && sag_motor_column_of((enum sag_fact)fact))
            status = put_fact(f, job, (enum sag_fact)fact);
    end_prose(f);
    return status;
}

static void put_path_blanks(FILE *f, const struct sag_supply *supply)
{
    bool begun = false;
    for (size_t i = 0; supply && i < supply->count; i++) {
        const char *column = sag_assumed_in_path(&supply->nodes[i], 0);
        if (!column)
            continue;
        fputs(begun ? "; " : "<p>Blank in the supply file, so that a usual value stands in: ", f);
        begun = true;
        put_html(f, supply->nodes[i].id);
        for (size_t k = 0; (column = sag_assumed_in_path(&supply->nodes[i], k)); k++)
            put_sentence(f, " <code>%s</code>", &column);
    }
    fputs(begun ? ".</p>\n" : "", f);
}

static void put_general(FILE *f, const struct sag_report_job *job)
{
    char insulation[16];
    snprintf(insulation, sizeof insulation, "%d", job->insulation_c);
    fputs(
        "<ul><li>Cases: nominal, the source as it should be, each motor at its own load; low, the least of the "
        "source's "
        "range, every motor at full load; high, the most of the range, only the motor of the row running; measured, "
        "as measured. Less than full load in the low case, or load that is always there in the high one, would make "
        "these verdicts milder; volts outside the range would make them worse.</li>\n"
        "<li>The three phases are taken as balanced but for measured volts; single-phase motors are spread over them. "
        "An uneven spread moves volts between lines and heats three-phase motors.</li>\n"
        "<li>Each motor starts by itself while the rest runs. Two that start together dip deeper: see the sequence in "
        "the program's start command.</li>\n",
        f);
    put_sentence(f,
                 "<li>Wires: copper, %s C insulation, 30 C around them, three in a raceway, unless the lists say "
                 "otherwise. Warmer or fuller raceways need larger wires.</li>\n"
                 "<li>Where no device is installed this kind is sized: %s. Trip curves are those usual for their kind "
                 "unless a maker's curve was given.</li></ul>\n",
                 (const char *const[]){insulation, device_words((uint8_t)job->device)});
}

enum sag_status put_assumptions(FILE *f, const struct sag_report_job *job)
{
    begin_section(f, 2, "assumptions", "Assumptions, and what each would change");
    put_general(f, job);
    put_path_blanks(f, job->supply);
    enum sag_status status = put_facts(f, job);
    end_section(f);
    return status;
}

/* --- sources ----------------------------------------------------------------------------------------------------- */

static void put_clauses(FILE *f, const struct sag_report_job *job)
{
    static const char *const heads[] = {"foot", "clause", "what it asks, in short"};
    fputs("<div id=\"feet\"></div>", f);
    begin_prose(f, "Feet of the schedules: clauses of " SAG_CODE_EDITION, heads, 3);
    for (int c = 0; c < SAG_CLAUSE_COUNT; c++) {
        const char letter[] = {sag_clause_letter((enum sag_clause)c), '\0'};
        const char *number = sag_clause_number((enum sag_clause)c);
        if (job->clauses >> c & 1)
            put_prose(
                f, (const char *const[]){letter, *number ? number : "local code", sag_clause_words((enum sag_clause)c)},
                3);
    }
    end_prose(f);
}

void put_sources(FILE *f, const struct sag_report_job *job)
{
    static const char *const heads[] = {"table", "what", "source, edition", "compared with it"};
    const struct sag_tables *tables = job->plant->tables;
    begin_section(f, 2, "sources", "Sources and editions");
    fputs("<p>Limits are given with their source in the findings. Conductors and protection go by " SAG_CODE_EDITION
          "; another edition, or a local one, may ask for other sizes. These tables are built into the program; "
          "<code>sagband tables NAME</code> prints one. What was written down from memory has to be compared with the "
          "document before anything rests on it.</p>\n",
          f);
    put_clauses(f, job);
    begin_prose(f, "Built-in tables", heads, 4);
    for (size_t i = 0; i < sag_tables_count(tables); i++) {
        const struct sag_table *t = sag_tables_at(tables, i);
        put_prose(f, (const char *const[]){t->name, t->title, t->source, t->status}, 4);
    }
    end_prose(f);
    end_section(f);
}

/* The report's page, from the question to the record. */
#include "sagband/report.h"

#include <string.h>

#include "write/escape.h"
#include "write/html.h"
#include "write/report_parts.h"

static void put_record(FILE *f, const struct sag_report_job *job)
{
    static const char *const heads[] = {"file", "what", "bytes", "SHA-256"};
    begin_section(f, 2, "record", "For the record");
    put_sentence(f, "<p>Made by sagband %s on %s with: <code>%s</code></p>\n",
                 (const char *const[]){job->version, job->date, job->call});
    if (job->input_count)
        begin_prose(f, "Files that were read", heads, 4);
    for (size_t i = 0; i < job->input_count; i++) {
        const struct sag_report_input *in = &job->inputs[i];
        char bytes[24];
        snprintf(bytes, sizeof bytes, "%zu", in->bytes);
        put_prose(f, (const char *const[]){in->name, in->role, bytes, in->sha256}, 4);
    }
    if (job->input_count)
        end_prose(f);
    fputs("<p class=\"sign\">Prepared by <span></span> Checked by <span></span> Date <span></span></p>\n", f);
    fputs("<p>Beside this page: check.csv, start.csv, protect.csv and findings.csv, with a supply file supply.csv, and "
          "the gnuplot scripts of the pictures (<code>gnuplot FEEDER-band.gp</code> draws one).</p>\n",
          f);
    end_section(f);
}

static void put_cautions(FILE *f)
{
    begin_section(f, 2, "cautions", "Cautions");
    fputs("<p class=\"caution\">", f);
    put_html_block(f, sag_caution_words());
    fputs("</p>\n", f);
    end_section(f);
}

static void put_contents(FILE *f, const struct sag_report_job *job)
{
    static const struct {
        const char *id, *words;
    } above[] = {{"answer", "Answer"}, {"findings", "Findings"}, {"supply", "Supply"}},
      below[] = {{"changes", "Changes"},
                 {"assumptions", "Assumptions"},
                 {"cautions", "Cautions"},
                 {"sources", "Sources"},
                 {"record", "Record"}};
    fputs("<nav aria-label=\"Contents\"><ul>", f);
    for (size_t i = 0; i < sizeof above / sizeof *above; i++)
        fprintf(f, "<li><a href=\"#%s\">%s</a></li>", above[i].id, above[i].words);
    for (size_t i = 0; i < job->plant->list->feeder_count; i++) {
        fprintf(f, "<li><a href=\"#feeder-%zu\">", i);
        put_html(f, job->plant->list->feeders[i].id);
        fputs("</a></li>", f);
    }
    for (size_t i = 0; i < sizeof below / sizeof *below; i++)
        fprintf(f, "<li><a href=\"#%s\">%s</a></li>", below[i].id, below[i].words);
    fputs("</ul></nav>\n", f);
}

static void put_head(FILE *f, const struct sag_report_job *job)
{
    const char *title = job->title ? job->title : "Motors and the volts they get";
    begin_page(f, title);
    put_sentence(f, "<header><h1>%s</h1>\n", &title);
    put_sentence(f, "<p class=\"soft\">%s, %s. Verdicts: ",
                 (const char *const[]){job->plant->list->file ? job->plant->list->file : "typed plate", job->date});
    for (int v = SAG_VERDICT_COUNT; v-- > 0;) {
        put_verdict(f, sag_verdict_word((enum sag_verdict)v));
        fputs(v ? ", " : "", f);
    }
    fputs("; unknown: the plates say too little, what is assumed decides.</p></header>\n", f);
    put_contents(f, job);
    fputs("<main>\n", f);
    if (job->no_picture)
        put_sentence(f, "<p class=\"caution\">There are no pictures in this page: %s</p>\n", &job->no_picture);
}

/* The sections that were written before. */
static enum sag_status copy_feeders(FILE *f, FILE *feeders)
{
    char block[16 * 1024];
    size_t n;
    if (fflush(feeders) != 0 || fseek(feeders, 0, SEEK_SET) != 0)
        return SAG_IO;
    while ((n = fread(block, 1, sizeof block, feeders)) > 0)
        fwrite(block, 1, n, f);
    return ferror(feeders) ? SAG_IO : SAG_OK;
}

enum sag_status sag_write_report(FILE *f, const struct sag_report_job *job)
{
    put_head(f, job);
    enum sag_status status = put_answer(f, job);
    status = status == SAG_OK ? put_all_findings(f, job) : status;
    status = status == SAG_OK ? put_supply(f, job) : status;
    status = status == SAG_OK ? copy_feeders(f, job->feeders) : status;
    status = status == SAG_OK ? put_changes(f, job) : status;
    status = status == SAG_OK ? put_assumptions(f, job) : status;
    put_cautions(f);
    put_sources(f, job);
    put_record(f, job);
    fputs("</main>\n", f);
    end_page(f);
    return status == SAG_OK && ferror(f) ? SAG_IO : status;
}

/* What the files of the report's page share. */
#ifndef WRITE_REPORT_PARTS_H
#define WRITE_REPORT_PARTS_H

#include "sagband/report.h"

enum {
    TAGS_IN_TEXT = 16 /* of a list within a sentence */
};

/* "LP-1, LP-2, ..."; begin with {stream, list}. What is beyond `most` is only counted. */
struct tag_row {
    FILE *stream;
    const struct sag_motor_list *list;
    size_t most, count;
};
void put_tag_of(struct tag_row *row, size_t motor);
/* The same of whatever a finding is about. */
void put_subject_of(struct tag_row *row, const struct sag_finding *finding);
void end_tags(struct tag_row *row);
/* All that findings are about, each once. */
void put_subjects(struct tag_row *tags, const struct sag_finding *row, size_t count);

/* Findings of all parts, none twice; the caller frees them with free(). */
enum sag_status gather_findings(const struct sag_report_notes *notes, struct sag_finding_list *out);

/* A check in words for whoever reads the answer only. */
const char *plain_words(const struct sag_check *check);
/* Names of the checks that have such words; NULL past the last. */
const char *plainly_worded(size_t index);
/* The question, and the answer in five lines. */
enum sag_status put_answer(FILE *f, const struct sag_report_job *job);
/* Its fourth line: what has to change. */
void put_protection(FILE *f, const struct sag_report_job *job);
/* Its last line: what to measure or read next. */
enum sag_status put_next(FILE *f, const struct sag_report_job *job);
/* The table of all findings, the worst first. */
enum sag_status put_all_findings(FILE *f, const struct sag_report_job *job);
/* The source, the boards, faults, the service and the transformers. */
enum sag_status put_supply(FILE *f, const struct sag_report_job *job);
/* Changes that were tried, and what they do. */
enum sag_status put_changes(FILE *f, const struct sag_report_job *job);
/* What stands in for blank cells, and what each of it moves. */
enum sag_status put_assumptions(FILE *f, const struct sag_report_job *job);
/* The documents that limits and tables come from. */
void put_sources(FILE *f, const struct sag_report_job *job);

/* Values of a table of words: heads, then one call a row. */
void begin_prose(FILE *f, const char *caption, const char *const heads[], size_t count);
void put_prose(FILE *f, const char *const cells[], size_t count);
void end_prose(FILE *f);

#endif

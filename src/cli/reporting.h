/* The report while it is made: what its files share. */
#ifndef CLI_REPORTING_H
#define CLI_REPORTING_H

#include "cli/schedule.h"
#include "sagband/report.h"

/* The tables beside the page. ORDER REPORT_TABLE */
enum report_table {
    TABLE_CHECK,
    TABLE_START,
    TABLE_PROTECT,
    TABLE_FINDINGS,
    TABLE_SUPPLY, /* with a supply file only, so it stands last */
    REPORT_TABLES
};

struct reporting {
    struct schedule plan;
    struct sag_report_notes notes;
    struct sag_advice_list advice;
    struct sag_tap_advice taps;
    bool *left_out; /* one a motor of the list: its start is not run */
    size_t starts_run, advised;
    struct sag_out *page, *outs[REPORT_TABLES];
    struct sag_sheet sheets[REPORT_TABLES];
    const struct sag_writer *writer;
    FILE *sections;
    struct sag_file_list scripts;
    char no_picture[200]; /* why there are none; "" */
    double since;
    /* of the feeder at work */
    uint32_t feeder;
    size_t first, count;
    struct sag_result *results;
    struct sag_start_result *starts;
    size_t start_count;
    struct sag_branch_result *branches;
    struct sag_kept_runs kept;
};

/* Where it goes. */
const char *report_folder(const struct session *s);

/* Open the tables and the page, and the file that the sections of feeders wait in. report_close() closes what was
   opened, also after a failure. */
enum sag_status report_open(struct session *s, struct reporting *r);
enum sag_status report_close(struct session *s, struct reporting *r, enum sag_status status);
/* Say that the file of the sections failed, errno says why. SAG_IO. */
enum sag_status report_tell_lost(struct session *s);

/* Results of the feeder at work to rows of the tables, and noted for the page. */
enum sag_status report_write_checks(struct session *s, struct reporting *r);
enum sag_status report_write_starts(struct session *s, struct reporting *r);
enum sag_status report_write_branches(struct session *s, struct reporting *r);
/* The same of the whole plant: boards; feeders and transformers. */
enum sag_status report_write_boards(struct session *s, struct reporting *r);
enum sag_status report_write_circuits(struct session *s, struct reporting *r);

/* Once all sections are written: the page. */
enum sag_status report_write_page(struct session *s, struct reporting *r);

#endif

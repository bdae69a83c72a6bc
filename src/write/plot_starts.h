/* What the pictures of starts share: the motors of a feeder that can be started on paper, twins as one, with their
   runs. */
#ifndef WRITE_PLOT_STARTS_H
#define WRITE_PLOT_STARTS_H

#include "write/gnuplot.h"

/* The first runs are those of SAG_CORNER_... in the main case. ORDER CORNER */
enum {
    RUN_LOW = SAG_CORNER_COUNT, /* low case, as likely */
    RUN_COUNT
};

/* Motors whose starts are the same. */
struct start_group {
    const struct sag_result *first;
    const struct sag_grid_motor *motor; /* of the first, as likely */
    struct sag_starter starter;
    size_t count;
    size_t id; /* what starts.group_of calls it */
    char tags[200];
    struct sag_run runs[RUN_COUNT];
    bool has_run[RUN_COUNT]; /* false: not made */
    bool is_kept[RUN_COUNT]; /* it belongs to the job */
    bool settles[RUN_COUNT]; /* false: volts collapse; the trace goes that far */
    bool failed;             /* no memory for its runs */
};

struct starts {
    const struct sag_plot_job *job;
    enum sag_case which; /* the main case: nominal, or the first there is */
    bool low;            /* there is a low case beside it */
    struct start_group *groups;
    size_t count;
    size_t *group_of; /* of each result of the job: its group's id; SIZE_MAX: none */
    size_t beyond;    /* groups that are left out because there are more than one cares to look at */
    char no_run[200]; /* tags of motors whose start cannot be computed */
};

/* Each motor of the job started alone, runs over threads; when it is only looked for files, the likely run alone. */
enum sag_status find_starts(const struct sag_plot_job *job, struct starts *out);
void free_starts(struct starts *starts);

/* Equal, or both not known. */
bool same_numbers(const double *left, const double *right, size_t count);

const struct sag_run *likely_run(const struct start_group *group);
/* What it did; NULL when it did not even begin. */
const struct sag_started *started_in(const struct start_group *group, int run);

/* "100 hp", "7.5 kW"; as the plate says. Returns `out`. */
const char *power_words(const struct start_group *group, char *out, size_t room);
/* "LP-3, LP-4: 100 hp, 460 V, across" */
void put_start_title(const struct start_group *group, FILE *stream);

/* Pixels at the foot of a page of starts, and of a line there. */
enum {
    NOTES_FOOT = 16,
    NOTE_TALL = 18
};
/* A line of words at the foot of the page, counted from below: a label of the key's plot. */
void put_foot_note(const char *text, int line, FILE *f);

/* Two panels a row, in pixels from the top of a page that is `tall`. */
struct panel_grid {
    int head, row;          /* above the first row; a row with all of its own */
    int row_head, row_foot; /* of it, for a panel's title and for its axis */
    const char *right[2];   /* where the left and the right panel end, in shares of the page's width */
};
/* Margins of the panel of that number, counted from 1 along the rows. */
void put_panel_place(const struct panel_grid *grid, size_t number, FILE *f);

enum sag_status plot_sag(const struct starts *starts, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_torque(const struct starts *starts, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_timecurrent(const struct starts *starts, struct sag_file_list *files, struct sag_diags *diags);

#endif

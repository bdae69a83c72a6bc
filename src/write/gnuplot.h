/* What all pictures share: the script's head, colours, labels. A script is one file with its data inside. */
#ifndef WRITE_GNUPLOT_H
#define WRITE_GNUPLOT_H

#include "sagband/write.h"

/* Colours that stay apart for colour-blind readers and in grey. */
#define COLOUR_LOW      "#1f6fb4"
#define COLOUR_NOMINAL  "#1a1a1a"
#define COLOUR_HIGH     "#c2410c"
#define COLOUR_MEASURED "#7b2d8e"
#define COLOUR_RATED    "#7a7a7a"
#define COLOUR_BAND     "#dcebd3"
#define COLOUR_OUTSIDE  "#b91c1c"
#define COLOUR_INSIDE   "#334155"

/* Colour and point type of a case. */
const char *case_colour(enum sag_case which);
int case_point(enum sag_case which);

struct picture {
    const char *title, *kind; /* kind: "band", "curve", "effect": the middle of the file's name */
    int wide, tall;           /* pixels */
};

/* One script being written. */
struct script {
    struct sag_out *out;
    FILE *stream;
    char *path;
};

/* Open FOLDER/FEEDER-KIND[-PAGE].gp and write its head; page counts from 1 and shows from 2 on. */
enum sag_status script_open(const struct sag_plot_job *job, const struct picture *picture, int page,
                            struct script *script, struct sag_diags *diags);
/* Put the script in place and add its path to `files`. */
enum sag_status script_close(struct script *script, struct sag_file_list *files, struct sag_diags *diags);
/* For a job that only looks: SAG_IO when that script exists already. */
enum sag_status script_look(const struct sag_plot_job *job, const char *kind, int page, struct sag_diags *diags);

/* "set COMMAND 'Feeder X: TEXT'", the picture's title. */
void put_title(const struct sag_plot_job *job, const char *command, const char *text, FILE *stream);
/* A number in a script, the same in every locale. */
void put_fixed(FILE *stream, double value, int decimals);

/* A number in a data block; NAN for a blank. */
void put_datum(FILE *stream, double value, int decimals);

/* Is the case there for any of the results? */
bool has_case(const struct sag_plot_job *job, enum sag_case which);

enum sag_status plot_band(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_curve(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_effect(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);

#endif

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
#define COLOUR_LOAD     "#15803d"
#define COLOUR_SPAN     "#b0b0b0"
#define COLOUR_GRID     "#d5d5d5"
#define COLOUR_RANGE    "#e3e0ea"
#define COLOUR_FRAME    "#555555"
#define COLOUR_RELAY    "#a16207"
#define COLOUR_RELAYS   "#f2e3b3" /* between the fastest and the slowest of a class */
#define COLOUR_DEVICE   "#0f766e"
#define COLOUR_DEVICES  "#cfe3e3" /* between the fastest and the slowest that are usual */
#define COLOUR_STALL    "#7b2d8e"
#define COLOUR_ALLOWED  "#b9d7aa"   /* sizes that the code allows, */
#define COLOUR_EXCEPTED COLOUR_BAND /* and those by its exception */

/* Colour and point type of a case. */
const char *case_colour(enum sag_case which);
int case_point(enum sag_case which);

/* Cases as a key lists them and as curves lie, from low to high. */
enum {
    KEY_CASES = SAG_CASE_COUNT
};
enum sag_case case_in_key(int place);

/* One kind of picture of a feeder: some items (rows of motors) a page, a script a page. `draw` writes a page's part of
   the script; the head and the end are written for it. */
struct pages {
    const char *kind; /* "band", "curve" ...: the middle of the file's name */
    size_t items, per_page;
    int wide, frame_tall, item_tall; /* pixels */
    void (*draw)(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *stream);
    const void *context;
};
/* The first lines of a script: how it is drawn, its size in pixels, its file's name without ".gp". */
void write_head(const char *picture, int wide, int tall, const char *name, FILE *f);
/* Write FOLDER/FEEDER-KIND[-PAGE].gp for every page, or only look whether one is in the way. */
enum sag_status write_pages(const struct sag_plot_job *job, const struct pages *pages, struct sag_file_list *files,
                            struct sag_diags *diags);

/* A strip on top of a page that holds nothing but a key: what is plotted between the two goes into it. */
void begin_key(FILE *stream);
void end_key(FILE *stream);

/* "set COMMAND 'Feeder X: TEXT'", the picture's title. */
void put_title(const struct sag_plot_job *job, const char *command, const char *text, FILE *stream);
/* A number in a script, the same in every locale. */
void put_fixed(FILE *stream, double value, int decimals);

/* A number in a data block; NAN for a blank. */
void put_datum(FILE *stream, double value, int decimals);

/* "set xtics (...)" at 1, 2 and 5 times powers of ten, for a logarithmic axis. */
void put_log_marks(double from, double to, FILE *stream);

/* "set yrange" from 0 to a little over the largest value, with three or four marks. */
void put_rising_range(double most, FILE *stream);

/* Is the case there for any of the results? */
bool has_case(const struct sag_plot_job *job, enum sag_case which);
/* Are there effects to draw in that case? */
bool has_effects(const struct sag_plot_job *job, enum sag_case which);

/* Add a tag to those that share a row; "..." when there is no room left. */
void add_tag(char *tags, size_t room, const char *tag);
/* "breaker", "dual-element fuse" ...; kind: enum sag_device. */
const char *device_words(uint8_t kind);
/* Are two circuits the same, number for number? */
bool same_machine(const struct sag_machine *a, const struct sag_machine *b);

enum sag_status plot_band(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_curve(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_effect(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
/* Sizes that the code asks for against those that are there. */
enum sag_status plot_sizes(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
enum sag_status plot_profile(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);
/* The pictures of starts: sag, torque and time-current. */
enum sag_status plot_starts(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);

#endif

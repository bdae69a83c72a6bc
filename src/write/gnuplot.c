#include "write/gnuplot.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/number.h"
#include "write/escape.h"

const char *case_colour(enum sag_case which)
{
    static const char *const colours[] = {COLOUR_NOMINAL, COLOUR_LOW, COLOUR_HIGH, COLOUR_MEASURED};
    _Static_assert(sizeof colours / sizeof *colours == SAG_CASE_COUNT, "ORDER CASE");
    return colours[which];
}

int case_point(enum sag_case which)
{
    static const int points[] = {7, 10, 8, 13}; /* filled circle, open triangle down and up, filled diamond */
    _Static_assert(sizeof points / sizeof *points == SAG_CASE_COUNT, "ORDER CASE");
    return points[which];
}

enum sag_case case_in_key(int place)
{
    static const enum sag_case order[] = {SAG_CASE_LOW, SAG_CASE_NOMINAL, SAG_CASE_MEASURED, SAG_CASE_HIGH};
    _Static_assert(sizeof order / sizeof *order == KEY_CASES, "ORDER CASE");
    return order[place];
}

/* A feeder's name as part of a file name; one that had to be changed gets a mark of its own, so that two never meet. */
static void feeder_file_name(const char *id, char *out, size_t room)
{
    put_file_name(out, room, id);
    if (strcmp(out, id) == 0)
        return;
    uint32_t mark = 2166136261U;
    for (const char *c = id; *c; c++)
        mark = (mark ^ (unsigned char)*c) * 16777619U;
    size_t used = strlen(out);
    snprintf(out + used, room - used, "-%04x", (mark ^ mark >> 16) & 0xFFFFU);
}

static void script_name(const struct sag_plot_job *job, const char *kind, int page, char *out, size_t room)
{
    char feeder[80], number[16] = "";
    feeder_file_name(job->plant->list->feeders[job->feeder].id, feeder, sizeof feeder);
    if (page > 1)
        snprintf(number, sizeof number, "-%d", page);
    snprintf(out, room, "%s-%s%s", feeder, kind, number);
}

/* Path of the script ("gp") or of its picture ("svg"). NULL when out of memory. */
static char *file_path(const struct sag_plot_job *job, const char *kind, int page, const char *end)
{
    char name[128];
    script_name(job, kind, page, name, sizeof name);
    size_t room = strlen(job->folder) + strlen(name) + strlen(end) + sizeof ".//.";
    char *path = malloc(room);
    /* a folder that looks like an option must not become one of gnuplot's */
    if (path)
        snprintf(path, room, "%s%s/%s.%s", job->folder[0] == '-' ? "./" : "", job->folder, name, end);
    return path;
}

void write_head(const char *picture, int wide, int tall, const char *name, FILE *f)
{
    fprintf(f, "# gnuplot %s.gp draws %s.%s beside this file\n", name, name, picture);
    fprintf(f, "if (!exists('picture')) picture = '%s'   # png, svg or pdf\n", picture);
    fprintf(f, "wide = %d; tall = %d\n", wide, tall);
    fprintf(f, "name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : '%s'\n", name);
    fputs("if (exists('beside')) name = name.beside   # until it is whole\n", f);
    fputs("if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'\n"
          "if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'\n"
          "if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'\n"
          "mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger\n"
          "set output name.'.'.picture\n"
          "set encoding utf8\n"
          "set border 3 lc rgb '" COLOUR_FRAME "'\n"
          "set tics nomirror out\n",
          f);
}

static enum sag_status file_look(const struct sag_plot_job *job, const char *path, struct sag_diags *diags)
{
    struct stat there;
    struct sag_shown shown;
    for (size_t i = 0; i < sizeof job->inputs / sizeof *job->inputs; i++)
        if (sag_same_file(path, job->inputs[i])) {
            sag_complain(diags, SAG_ERROR, &(struct sag_place){0}, "%s: is an input; it would be overwritten",
                         sag_shown(&shown, path, strlen(path)));
            return SAG_IO;
        }
    if (job->force || lstat(path, &there) != 0)
        return SAG_OK;
    sag_complain(diags, SAG_ERROR, &(struct sag_place){0}, "%s: exists already; --force overwrites it",
                 sag_shown(&shown, path, strlen(path)));
    return SAG_IO;
}

static enum sag_status page_look(const struct sag_plot_job *job, const char *kind, int page, struct sag_diags *diags)
{
    const char *const ends[] = {"gp", job->picture};
    enum sag_status status = SAG_OK;
    for (int i = 0; i < (job->draws ? 2 : 1) && status == SAG_OK; i++) {
        char *path = file_path(job, kind, page, ends[i]);
        status = path ? file_look(job, path, diags) : SAG_NO_MEMORY;
        free(path);
    }
    return status;
}

void put_fixed(FILE *stream, double value, int decimals)
{
    char number[SAG_NUMBER_ROOM];
    fputs(sag_number_print(number, value, decimals), stream);
}

void put_title(const struct sag_plot_job *job, const char *command, const char *text, FILE *stream)
{
    char feeder[200], title[400];
    put_cut(feeder, sizeof feeder, job->plant->list->feeders[job->feeder].id, 40);
    snprintf(title, sizeof title, "Feeder %s: %s", feeder, text);
    fprintf(stream, "set %s ", command);
    put_gnuplot(stream, title);
    fputs(" font ',14'\n", stream);
}

/* Takes the path over, whatever comes of it. */
static enum sag_status add_file(struct sag_file_list *files, char *path)
{
    if (files->count == files->room) {
        size_t room = files->room ? 2 * files->room : 32;
        char **names = realloc(files->names, room * sizeof *names);
        if (!names) {
            free(path);
            return SAG_NO_MEMORY;
        }
        files->names = names;
        files->room = room;
    }
    files->names[files->count++] = path;
    return SAG_OK;
}

static enum sag_status write_page(const struct sag_plot_job *job, const struct pages *pages, size_t first,
                                  struct sag_file_list *files, struct sag_diags *diags)
{
    char name[128];
    struct sag_out *out = NULL;
    int page = (int)(first / pages->per_page) + 1;
    size_t count = pages->items - first < pages->per_page ? pages->items - first : pages->per_page;
    char *path = file_path(job, pages->kind, page, "gp");
    enum sag_status status = path ? sag_out_open(&out, path, job->force, diags) : SAG_NO_MEMORY;
    if (status == SAG_OK) {
        FILE *stream = sag_out_stream(out);
        script_name(job, pages->kind, page, name, sizeof name);
        write_head(job->picture, pages->wide, pages->frame_tall + pages->item_tall * (int)count, name, stream);
        pages->draw(job, pages->context, first, count, stream);
        fputs("unset output\n", stream);
        status = sag_out_close(out, SAG_OK, diags);
    }
    if (status == SAG_OK)
        return add_file(files, path);
    free(path);
    return status;
}

enum sag_status write_pages(const struct sag_plot_job *job, const struct pages *pages, struct sag_file_list *files,
                            struct sag_diags *diags)
{
    enum sag_status status = SAG_OK;
    struct pages own = *pages;
    while (job->most_tall && own.per_page > 1 && own.frame_tall + own.item_tall * (int)own.per_page > job->most_tall)
        own.per_page--;
    for (size_t first = 0; first < own.items && status == SAG_OK; first += own.per_page)
        status = job->only_look ? page_look(job, own.kind, (int)(first / own.per_page) + 1, diags)
                                : write_page(job, &own, first, files, diags);
    return status;
}

void begin_key(FILE *stream)
{
    fputs("set lmargin at screen 0.08; set rmargin at screen 0.97\n"
          "set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall\n"
          "unset border; unset tics; unset xlabel; unset ylabel; unset title\n"
          "set key center center horizontal width 2\nset xrange [0:1]; set yrange [0:1]\n",
          stream);
}

void end_key(FILE *stream)
{
    fputs("unset key; set border 3 lc rgb '" COLOUR_FRAME "'; set tics nomirror out\nset grid lc rgb '" COLOUR_GRID
          "'\n",
          stream);
}

void sag_file_list_free(struct sag_file_list *files)
{
    for (size_t i = 0; i < files->count; i++)
        free(files->names[i]);
    free(files->names);
    *files = (struct sag_file_list){0};
}

void put_datum(FILE *stream, double value, int decimals)
{
    char number[SAG_NUMBER_ROOM];
    fprintf(stream, " %s", isfinite(value) ? sag_number_print(number, value, decimals) : "NaN");
}

void put_rising_range(double most, FILE *stream)
{
    const double room = 1.06, marks = 4;
    most = most > 0 && isfinite(most) ? most : 1; /* nothing to draw still wants an axis */
    double step = pow(10, floor(log10(most / marks)));
    static const double factors[] = {1, 2, 2.5, 5, 10};
    const int decimals = (int)fmax(2, 1 - log10(step)); /* 2.5 steps have one more digit */
    size_t k = 0;
    while (k + 1 < sizeof factors / sizeof *factors && factors[k] * step * marks < most)
        k++;
    fputs("set yrange [0:", stream);
    put_fixed(stream, room * most, decimals);
    fputs("]; set ytics ", stream);
    put_fixed(stream, factors[k] * step, decimals);
    fputs(" nomirror out\n", stream);
}

void put_log_marks(double from, double to, FILE *stream)
{
    static const double steps[] = {1, 2, 5};
    const char *before = "set xtics nomirror out (";
    char number[SAG_NUMBER_ROOM];
    for (int decade = (int)floor(log10(from)); pow(10, decade) <= to; decade++)
        for (size_t k = 0; k < sizeof steps / sizeof *steps; k++) {
            double mark = steps[k] * pow(10, decade);
            if (mark < from || mark > to)
                continue;
            sag_number_figures(number, mark, 3);
            fprintf(stream, "%s'%s' %s", before, number, number);
            before = ", ";
        }
    fputs(*before == ',' ? ")\n" : "set xtics autofreq\n", stream);
}

bool has_case(const struct sag_plot_job *job, enum sag_case which)
{
    for (size_t i = 0; i < job->count; i++)
        if (job->results[i].of[which].present)
            return true;
    return false;
}

bool has_effects(const struct sag_plot_job *job, enum sag_case which)
{
    for (size_t i = 0; i < job->count; i++) {
        const struct sag_motor_case *c = &job->results[i].of[which];
        if (c->present && sag_known(&c->effects.of[SAG_EFFECT_STARTING_AMPS].at_case))
            return true;
    }
    return false;
}

void add_tag(char *tags, size_t room, const char *tag)
{
    char cut[130];
    size_t used = strlen(tags);
    if (used + sizeof cut + 2 < room)
        snprintf(tags + used, room - used, "%s%s", used ? ", " : "", put_cut(cut, sizeof cut, tag, 30));
    else if (used + 5 < room)
        snprintf(tags + used, room - used, " ...");
}

const char *device_words(uint8_t kind)
{
    static const char *const words[] = {[SAG_DEVICE_BLANK] = "device",
                                        [SAG_DEVICE_DUAL_ELEMENT_FUSE] = "dual-element fuse",
                                        [SAG_DEVICE_NONTIME_FUSE] = "fuse",
                                        [SAG_DEVICE_INVERSE_TIME_BREAKER] = "breaker",
                                        [SAG_DEVICE_INSTANTANEOUS_BREAKER] = "instantaneous breaker"};
    _Static_assert(sizeof words / sizeof *words == SAG_DEVICE_KINDS, "ORDER DEVICE");
    return words[kind];
}

bool same_machine(const struct sag_machine *a, const struct sag_machine *b)
{
    const double left[] = {a->stator_r,      a->stator_x, a->inner_r,   a->inner_x,     a->outer_r, a->outer_x,
                           a->leakage_share, a->friction, a->trim_amps, a->trim_torque, a->core_r,  a->magnet_x};
    const double right[] = {b->stator_r,      b->stator_x, b->inner_r,   b->inner_x,     b->outer_r, b->outer_x,
                            b->leakage_share, b->friction, b->trim_amps, b->trim_torque, b->core_r,  b->magnet_x};
    for (size_t i = 0; i < sizeof left / sizeof *left; i++)
        if (left[i] != right[i])
            return false;
    return true;
}

enum sag_status sag_plot_feeder(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    static enum sag_status (*const pictures[])(const struct sag_plot_job *, struct sag_file_list *,
                                               struct sag_diags *) = {plot_band,    plot_curve,  plot_effect,
                                                                      plot_profile, plot_starts, plot_sizes};
    enum sag_status status = SAG_OK;
    bool any = false;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        any = any || has_case(job, (enum sag_case)c);
    if (!any) /* nothing is known of this feeder's volts in the cases asked for */
        return SAG_OK;
    for (size_t i = 0; i < sizeof pictures / sizeof *pictures && status == SAG_OK; i++)
        status = pictures[i](job, files, diags);
    return status;
}

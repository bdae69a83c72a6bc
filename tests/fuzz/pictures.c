/* Scripts of pictures are files, so they are written where files are memory, looked at, and removed. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "fuzz/promises.h"
#include "fuzz/whole.h"

static bool ends_a_word(char c)
{
    return !isalnum((unsigned char)c) && c != '_';
}

/* NaN is gnuplot's word for a blank; infinity it would draw. */
static bool has_infinity(const char *line, size_t length)
{
    for (size_t i = 0; i + 3 <= length; i++)
        if (strncmp(line + i, "inf", 3) == 0 && (i == 0 || ends_a_word(line[i - 1])) &&
            (i + 3 == length || ends_a_word(line[i + 3])))
            return true;
    return false;
}

/* No line leaves a string open, or calls a shell. */
static void check_line(const char *line, size_t length, bool says_nan)
{
    size_t quotes = 0;
    for (size_t i = 0; i < length; i++)
        quotes += line[i] == '\'';
    must(*line == '#' || quotes % 2 == 0, "every string of a script is closed", "picture");
    must(*line != '!', "no line of a script is a shell's", "picture");
    must(!memchr(line, '`', length) && !memchr(line, '"', length), "nothing in a script is expanded", "picture");
    must(says_nan || !has_infinity(line, length), "no number of a script is infinite", "picture");
}

static void check_script(const char *path, bool says_nan)
{
    char *text = NULL;
    size_t size = 0;
    FILE *file = fopen(path, "rb"), *copy = open_memstream(&text, &size);
    must(file && copy, "a script that was written is there", path);
    for (int c; (c = fgetc(file)) != EOF;)
        fputc(c, copy);
    fclose(file);
    fclose(copy);
    must(size > 0 && text[size - 1] == '\n', "a script has an end", path);
    must_be_plain(text, size, "picture");
    for (size_t at = 0; at < size;) {
        size_t length = strcspn(text + at, "\n");
        check_line(text + at, length, says_nan);
        at += length + 1;
    }
    free(text);
}

/* One feeder's motors stand together, as plot sorts them. */
static size_t motors_of(const struct whole_job *job, uint32_t feeder, struct sag_result *out)
{
    size_t count = 0;
    for (size_t i = 0; i < job->plant->list->count; i++)
        if (job->plant->list->plates[i].feeder == feeder)
            out[count++] = job->results[i];
    return count;
}

static void plot(const struct whole_job *job, const char *folder, struct sag_file_list *files)
{
    static struct sag_result results[WHOLE_MOTORS];
    struct sag_diags diags = {0};
    struct sag_plot_job plot = {.plant = job->plant,
                                .results = results,
                                .supply = job->supply,
                                .reports = job->reports,
                                .grids = job->grids,
                                .size = &job->circuits->size,
                                .folder = folder,
                                .picture = "png"};
    if (job->options->for_device)
        plot.device_curve = job->curve;
    if (job->options->for_relay)
        plot.relay_curve = job->curve;
    for (size_t f = 0; f < job->plant->list->feeder_count; f++) {
        plot.feeder = (uint32_t)f;
        plot.count = motors_of(job, plot.feeder, results);
        if (plot.count)
            must(sag_plot_feeder(&plot, files, &diags) == SAG_OK, "every feeder is drawn",
                 diags.count ? diags.items[0].text : "picture");
    }
    sag_diags_free(&diags);
}

void run_pictures(const struct whole_job *job)
{
    char in_memory[] = "/dev/shm/sagband-XXXXXX", elsewhere[] = "/tmp/sagband-XXXXXX";
    char *folder = mkdtemp(in_memory);
    struct sag_file_list files = {0};
    folder = folder ? folder : mkdtemp(elsewhere);
    must(folder != NULL, "a folder for scripts", "picture");
    plot(job, folder, &files);
    for (size_t i = 0; i < files.count; i++) {
        check_script(files.names[i], job->says_nan);
        unlink(files.names[i]);
    }
    must(rmdir(folder) == 0, "nothing but scripts is written", "picture");
    sag_file_list_free(&files);
}

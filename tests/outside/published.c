#include "outside/published.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/number.h"

enum {
    MOST_FILES = 16
};

struct kept {
    char name[80];
    struct published file;
};

static enum sag_status keep_row(void *context, const struct sag_row *row)
{
    struct published *file = context;
    size_t filled = file->columns * (file->columns ? file->rows + 1 : 0);
    if (file->columns == 0)
        file->columns = row->count;
    else
        file->rows++;
    char **cells = realloc(file->cells, (filled + file->columns) * sizeof *cells);
    if (!cells)
        return SAG_NO_MEMORY;
    file->cells = cells;
    for (size_t i = 0; i < file->columns; i++) {
        cells[filled + i] = strdup(i < row->count ? row->cells[i].text : "");
        if (!cells[filled + i])
            return SAG_NO_MEMORY;
    }
    return SAG_OK;
}

static void read_into(const char *name, struct published *file)
{
    char path[160];
    struct sag_diags diags = {0};
    snprintf(path, sizeof path, "tests/outside/data/%s", name);
    struct sag_input input = {.name = path, .file = fopen(path, "rb")};
    if (!input.file)
        fail_msg("%s: not found; tests run from the top of the tree", path);
    struct sag_csv_events events = {.row = keep_row, .context = file};
    enum sag_status status = sag_csv_read(&input, &events, &diags);
    fclose(input.file);
    if (status != SAG_OK || file->rows == 0)
        fail_msg("%s: %s", path, diags.count ? diags.items[0].text : sag_status_words(status));
    sag_diags_free(&diags);
}

const struct published *published_file(const char *name)
{
    static struct kept kept[MOST_FILES];
    for (size_t i = 0; i < MOST_FILES; i++) {
        if (kept[i].name[0] == '\0') {
            read_into(name, &kept[i].file);
            snprintf(kept[i].name, sizeof kept[i].name, "%s", name);
        }
        if (strcmp(kept[i].name, name) == 0)
            return &kept[i].file;
    }
    fail_msg("%s: no room for another file", name);
    return NULL;
}

const char *published_text(const struct published *file, size_t row, const char *column)
{
    for (size_t i = 0; i < file->columns; i++)
        if (strcmp(file->cells[i], column) == 0)
            return file->cells[(row + 1) * file->columns + i];
    fail_msg("no column %s", column);
    return "";
}

double published_number(const struct published *file, size_t row, const char *column)
{
    const char *text = published_text(file, row, column);
    double value = NAN;
    if (sag_number_read(text, strlen(text), '.', &value) != SAG_NUMBER_OK)
        return NAN;
    return value;
}

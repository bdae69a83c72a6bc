#include "fuzz/printing.h"

#include <stdlib.h>

#include "fuzz/promises.h"

/* Columns that machines see; a column for people only has no name. */
static size_t named_columns(const struct sag_view *view)
{
    size_t n = 0;
    for (size_t i = 0; i < view->count; i++)
        n += view->columns[i].name != NULL;
    return n;
}

static void print_as(const struct print_job *job, const struct sag_writer *writer)
{
    char *text = NULL;
    struct printed printed = {.format = writer->name, .columns = named_columns(job->view), .says_nan = job->says_nan};
    struct sag_sheet sheet = {.stream = open_memstream(&text, &printed.size), .view = job->view};
    must(sheet.stream != NULL, "memory", writer->name);
    writer->begin(&sheet, job->title);
    printed.rows = job->put_rows(job->context, writer, &sheet);
    writer->end(&sheet);
    fclose(sheet.stream);
    printed.text = text;
    must_be_readable(&printed);
    free(text);
}

void print_in_all_formats(const struct print_job *job)
{
    for (size_t i = 0; sag_writer_at(i); i++)
        print_as(job, sag_writer_at(i));
}

void put_one(const struct sag_writer *writer, struct sag_sheet *sheet, const struct sag_value *values)
{
    must(writer->row(sheet, values) == SAG_OK, "every row is written", writer->name);
}

void begin_words(struct words *w)
{
    *w = (struct words){0};
    w->stream = open_memstream(&w->text, &w->size);
    must(w->stream != NULL, "memory", "words");
}

void end_words(struct words *w, bool says_nan, const char *where)
{
    fclose(w->stream);
    must_be_plain(w->text, w->size, where);
    must(says_nan || !has_nan_word(w->text, w->size), "no number is printed that is none", where);
    free(w->text);
}

/* tables: the built-in reference tables, their list or one of them. */
#include <string.h>

#include "cli/session.h"

static enum sag_status write_list(const struct sag_tables *tables, const char *format, FILE *stream)
{
    const struct sag_writer *writer = sag_writer_find(format);
    struct sag_sheet sheet = {.stream = stream, .view = &sag_tables_view};
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    writer->begin(&sheet, NULL);
    for (size_t i = 0; i < sag_tables_count(tables) && status == SAG_OK; i++) {
        sag_tables_row(sag_tables_at(tables, i), values);
        status = writer->row(&sheet, values);
    }
    writer->end(&sheet);
    return status;
}

static enum sag_status find(const struct sag_tables *tables, const char *name, const struct sag_table **table,
                            struct sag_diags *diags)
{
    struct sag_shown shown;
    *table = sag_tables_find(tables, name);
    return *table ? SAG_OK
                  : sag_complain(diags, SAG_ERROR, &(struct sag_place){0},
                                 "no built-in table is called \"%s\"; sagband tables lists them",
                                 sag_shown(&shown, name, strlen(name)));
}

enum exit_status cmd_tables(const struct options *options)
{
    struct session s = {.options = options};
    struct sag_out *out = NULL;
    const struct sag_table *table = NULL;
    enum sag_status status = sag_tables_open(&s.tables, &s.diags);
    if (status == SAG_OK && options->word_count > 0)
        status = find(s.tables, options->words[0], &table, &s.diags);
    if (status == SAG_OK)
        status = sag_out_open(&out, options->output, options->force, &s.diags);
    if (status == SAG_OK) {
        status = table ? sag_print_table(sag_out_stream(out), table, options->format)
                       : write_list(s.tables, options->format, sag_out_stream(out));
        status = sag_out_close(out, status, &s.diags);
    }
    return session_close(&s, status);
}

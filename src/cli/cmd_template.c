/* template: a starter CSV with every column, what each is for, and one worked row. */
#include <string.h>

#include "cli/session.h"

typedef size_t columns_fn(size_t index, struct sag_column_help *help);

/* A group's columns with a word on each, as comment lines no wider than a page. */
static void write_group(FILE *stream, columns_fn *columns, const char *group)
{
    enum {
        LINE = 100
    };
    struct sag_column_help help;
    int at = fprintf(stream, "# %s:", group);
    for (size_t i = 0; i < columns(i, &help); i++) {
        int width = (int)(strlen(help.name) + strlen(help.help)) + 5;
        if (strcmp(help.group, group) != 0)
            continue;
        if (at + width > LINE)
            at = fprintf(stream, "\n#  ") - 1;
        at += fprintf(stream, " %s (%s);", help.name, help.help);
    }
    fputc('\n', stream);
}

static void write_template(FILE *stream, columns_fn *columns)
{
    struct sag_column_help help;
    size_t count = columns(0, &help);
    const char *groups[12];
    size_t group_count = 0;
    for (size_t i = 0; i < count; i++) {
        columns(i, &help);
        size_t g = 0;
        while (g < group_count && strcmp(groups[g], help.group) != 0)
            g++;
        if (g == group_count && g < sizeof groups / sizeof *groups)
            groups[group_count++] = help.group;
    }
    for (size_t g = 0; g < group_count; g++)
        write_group(stream, columns, groups[g]);
    for (size_t i = 0; i < count; i++) {
        columns(i, &help);
        fprintf(stream, "%s%s", help.name, i + 1 < count ? "," : "\n");
    }
    for (size_t i = 0; i < count; i++) {
        columns(i, &help);
        const char *quote = strchr(help.example, ',') ? "\"" : "";
        fprintf(stream, "%s%s%s%s", quote, help.example, quote, i + 1 < count ? "," : "\n");
    }
}

enum exit_status cmd_template(const struct options *options)
{
    struct session s = {.options = options};
    struct sag_out *out = NULL;
    const char *kind = options->word_count == 1 ? options->words[0] : "";
    columns_fn *columns = strcmp(kind, "motors") == 0   ? sag_motor_columns
                          : strcmp(kind, "supply") == 0 ? sag_supply_columns
                                                        : NULL;
    enum sag_status status = SAG_OK;
    if (!columns) {
        sag_complain(&s.diags, SAG_ERROR, &(struct sag_place){0}, "template: write motors or supply after it");
        status = SAG_BAD_USAGE;
    }
    if (status == SAG_OK)
        status = sag_out_open(&out, options->output, options->force, &s.diags);
    if (status == SAG_OK) {
        write_template(sag_out_stream(out), columns);
        status = sag_out_close(out, SAG_OK, &s.diags);
    }
    return session_close(&s, status);
}

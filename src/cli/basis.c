/* The lines at the top of a text that say what its volts rest on. */
#include <string.h>

#include "base/number.h"
#include "cli/session.h"
#include "write/escape.h"

static void print_end(FILE *stream, const struct sag_qty *end)
{
    char number[SAG_NUMBER_ROOM];
    bool given = end->origin == SAG_NAMEPLATE;
    fprintf(stream, "%s V (%s%s)", sag_number_figures(number, end->value, 6),
            given       ? "given"
            : end->rule ? end->rule->source
                        : "",
            end->from_memory ? ", from memory" : "");
}

static void print_range(const struct session *s, size_t source, FILE *stream)
{
    struct sag_qty low, high;
    sag_source_range(s->tables, &s->supply.nodes[source], &low, &high);
    fputs("Range of ", stream);
    put_plain(stream, s->supply.nodes[source].id);
    fputs(": ", stream);
    if (low.origin == high.origin && low.rule == high.rule) {
        char number[SAG_NUMBER_ROOM];
        fprintf(stream, "%s to ", sag_number_figures(number, low.value, 6));
    } else {
        print_end(stream, &low);
        fputs(" to ", stream);
    }
    print_end(stream, &high);
    fputs(".\n", stream);
}

void print_supply_basis(const struct session *s, FILE *stream)
{
    fputs("Supply: ", stream);
    put_plain(stream, s->supply.file);
    fputc('\n', stream);
    for (size_t i = 0; i < s->supply.count; i++)
        if (s->supply.nodes[i].parent < 0)
            print_range(s, i, stream);
    print_measured_basis(s, stream);
}

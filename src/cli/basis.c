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

/* What the volts are, where they are from, and what is left out. */
void print_volts_basis(const struct session *s, FILE *stream)
{
    const struct sag_board *b = &s->boards[s->list.plates[s->order[0]].feeder];
    const struct sag_qty *low = &b->of[SAG_CASE_LOW].volts;
    char a[SAG_NUMBER_ROOM], z[SAG_NUMBER_ROOM];
    if (s->has_supply) {
        print_supply_basis(s, stream);
        fputs("Volts are those behind the drops of the path and the motor's own branch cable. Case low: the least\n"
              "of that range, every motor at full load; high: the most, only the motor of the row runs; the\n"
              "others: each at its own load.\n",
              stream);
    } else if (s->options->typed.count == 0)
        fprintf(
            stream,
            "Supply: three line voltages of a log, unbalance of their means %s %%; taken as those at every motor.\n",
            sag_number_print(a, 100 * b->of[SAG_CASE_MEASURED].unbalance, 2));
    else if (s->options->typed.count == 3)
        fprintf(stream, "Supply: three measured line voltages, unbalance %s %%; taken as those at every motor.\n",
                sag_number_print(a, 100 * b->of[SAG_CASE_MEASURED].unbalance, 2));
    else
        fprintf(stream,
                "Supply: %s V, %s Hz as typed, nothing known of the path: drops are taken as zero, low is the\n"
                "least volts in use and high the most that the range allows.\n",
                sag_number_figures(a, b->volts_nominal, 5), sag_number_figures(z, b->hz, 3));
    if (!s->has_supply)
        print_measured_basis(s, stream);
    if (!s->has_supply && sag_known(low) && low->origin == SAG_TABLE)
        fprintf(stream, "Range: %s%s.\n", low->rule->source, low->from_memory ? " (from memory)" : "");
    if (!s->has_supply && s->list.feeder_count > 1 && !s->options->feeder && !s->options->motor)
        fputs("The feeders of the list only group the motors: typed volts are taken at all of them.\n", stream);
    fputs("Changes (chg) are against the same load at the plate's volts and frequency.\n", stream);
}

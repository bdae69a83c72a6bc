/* The path of a sheet: ohms of each piece with their arithmetic, and the volts that each loses in a case. */
#include <complex.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/number.h"
#include "write/sheet.h"

#define ROOT3        1.7320508075688772
#define FEET         0.3048 /* m */
#define HZ_OF_TABLES 60.0

/* A number in the sheet's memory, so that many fit into one text. */
static const char *figures(struct sag_lines *lines, double value, int count)
{
    char number[SAG_NUMBER_ROOM];
    return sheet_text(lines, "%s", sag_number_figures(number, value, count));
}

double ratio_from_source(const struct sag_supply *supply, int32_t node)
{
    double ratio = 1;
    for (int32_t i = node; i >= 0; i = supply->nodes[i].parent)
        ratio *= sag_step_ratio(&supply->nodes[i]);
    return ratio;
}

struct no_load no_load_volts(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t node,
                             enum sag_case which)
{
    const struct sag_supply *supply = job->supply;
    const char *steps = "";
    int32_t source = node;
    for (int32_t i = node; i >= 0; i = supply->nodes[i].parent) {
        const double *g = supply->nodes[i].given;
        source = i;
        if (supply->nodes[i].choice[SAG_NODE_KIND] != SAG_NODE_TRANSFORMER)
            continue;
        double percent = isnan(g[SAG_NODE_TAP]) ? 0 : 100 * g[SAG_NODE_TAP];
        const char *tap = percent != 0 ? sheet_text(lines, " * (1 + %s / 100)", figures(lines, percent, 4)) : "";
        steps = sheet_text(lines, " * %s / %s%s%s", figures(lines, g[SAG_NODE_SECONDARY_VOLTS], 7),
                           figures(lines, g[SAG_NODE_PRIMARY_VOLTS], 7), tap, steps);
    }
    struct sag_qty low, high;
    sag_source_range(job->plant->tables, &supply->nodes[source], &low, &high);
    double volts = which == SAG_CASE_LOW    ? low.value
                   : which == SAG_CASE_HIGH ? high.value
                                            : supply->nodes[source].given[SAG_NODE_NOMINAL_VOLTS];
    return (struct no_load){volts * ratio_from_source(supply, node),
                            *steps ? sheet_text(lines, "%s%s", figures(lines, volts, 7), steps) : ""};
}

/* --- ohms -------------------------------------------------------------------------------------------------------- */

struct ohms {
    const char *words, *formula, *numbers, *source;
};

static struct ohms of_utility(struct sag_lines *lines, const struct sag_node *n)
{
    const double *g = n->given;
    const char *volts = figures(lines, g[SAG_NODE_NOMINAL_VOLTS], 6);
    const char *ratio = isnan(g[SAG_NODE_X_OVER_R]) ? "fault level given; X/R usual, table network_defaults"
                                                    : "fault level and X/R given";
    if (!isnan(g[SAG_NODE_FAULT_VA]))
        return (struct ohms){"utility", "V * V / S_sc",
                             sheet_text(lines, "%s * %s / %s", volts, volts, figures(lines, g[SAG_NODE_FAULT_VA], 7)),
                             ratio};
    if (!isnan(g[SAG_NODE_FAULT_AMPS]))
        return (struct ohms){"utility", "V / (sqrt3 * I_sc)",
                             sheet_text(lines, "%s / (sqrt3 * %s)", volts, figures(lines, g[SAG_NODE_FAULT_AMPS], 6)),
                             ratio};
    return (struct ohms){"utility, fault level not given: holds its volts", "", "", ""};
}

static struct ohms of_transformer(struct sag_lines *lines, const struct sag_node *n)
{
    const double *g = n->given;
    bool open = n->choice[SAG_NODE_BANK] == SAG_BANK_OPEN;
    const char *volts = figures(lines, g[SAG_NODE_SECONDARY_VOLTS], 6);
    const char *numbers = sheet_text(lines, "%s%s / 100 * %s * %s / %s", open ? "2 * " : "",
                                     figures(lines, 100 * g[SAG_NODE_IMPEDANCE], 5), volts, volts,
                                     figures(lines, g[SAG_NODE_RATED_VA], 7));
    return (struct ohms){open ? "transformer, open bank" : "transformer",
                         open ? "2 * z / 100 * V_2 * V_2 / S" : "z / 100 * V_2 * V_2 / S", numbers,
                         isnan(g[SAG_NODE_X_OVER_R])
                             ? "transformer plate; X/R usual for its kVA, table transformer_impedance_typical"
                             : "transformer plate"};
}

static struct ohms of_generator(struct sag_lines *lines, const struct sag_node *n, const struct sag_grid_node *grid)
{
    const double *g = n->given;
    const char *volts = figures(lines, g[SAG_NODE_NOMINAL_VOLTS], 6);
    double base = g[SAG_NODE_NOMINAL_VOLTS] * g[SAG_NODE_NOMINAL_VOLTS] / g[SAG_NODE_RATED_VA];
    const char *numbers = sheet_text(lines, "%s / 100 * %s * %s / %s", figures(lines, 100 * grid->x / base, 4), volts,
                                     volts, figures(lines, g[SAG_NODE_RATED_VA], 7));
    return (struct ohms){"generator, transient: counts in a start only", "x / 100 * V * V / S, and R", numbers,
                         isnan(g[SAG_NODE_TRANSIENT]) ? "common practice, no source; table network_defaults"
                                                      : "generator plate; R usual, table network_defaults"};
}

/* A cable is told in the unit that its table is printed in; a metric size in kilometres. */
struct cable {
    struct sag_cable per_metre;
    const char *size, *kind; /* kind: material and raceway */
    double length, sets, hz;
};

/* Copper in steel stand in for blanks; see sag_ask_cable(). kind: material, raceway. */
static struct cable cable_of(struct sag_lines *lines, const struct sag_sheet_job *job, const char *size,
                             const uint8_t kind[2])
{
    enum sag_material material = (enum sag_material)kind[0];
    enum sag_raceway raceway = (enum sag_raceway)kind[1];
    return (struct cable){
        .per_metre = sag_ask_cable(job->plant->tables, size, material, raceway),
        .size = size,
        .kind = sheet_text(lines, " %s in %s", material ? sag_choice_word(SAG_MATERIAL, material) : "(cu)",
                           raceway ? sag_choice_word(SAG_RACEWAY, raceway) : "(steel)"),
    };
}

static const char *cable_source(struct sag_lines *lines, const struct cable *c)
{
    return sheet_text(lines, "%sNFPA 70, Chapter 9, Table 9%s; table ch9_t9_ac_impedance%s",
                      c->per_metre.scaled ? "table iec_60228_resistance, the rest as in " : "",
                      c->per_metre.scaled ? ", nearest size" : "",
                      strchr(c->kind, '(') ? "; in brackets: assumed" : "");
}

static struct ohms of_cable(struct sag_lines *lines, const struct cable *c)
{
    bool metric = strstr(c->size, "mm2") != NULL, several = c->sets > 1;
    double unit = metric ? 1000 : 1000 * FEET;
    const char *x = figures(lines, c->per_metre.ohms_x * unit, 4), *length = figures(lines, 1000 * c->length / unit, 5);
    if (c->hz != HZ_OF_TABLES)
        x = sheet_text(lines, "%s * %s / 60", x, figures(lines, c->hz, 4));
    return (struct ohms){sheet_text(lines, "cable, %s %s of %s%s", length, metric ? "m" : "ft", c->size, c->kind),
                         several ? "|r + j x| / 1000 * L / sets" : "|r + j x| / 1000 * L",
                         sheet_text(lines, "|%s + j %s| / 1000 * %s%s%s", figures(lines, c->per_metre.ohms_r * unit, 4),
                                    x, length, several ? " / " : "", several ? figures(lines, c->sets, 2) : ""),
                         cable_source(lines, c)};
}

static struct ohms of_node(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t i)
{
    const struct sag_node *n = &job->supply->nodes[i];
    const double *g = n->given;
    switch (n->choice[SAG_NODE_KIND]) {
    case SAG_NODE_UTILITY:
        return of_utility(lines, n);
    case SAG_NODE_GENERATOR:
        return of_generator(lines, n, &job->grid->nodes[i]);
    case SAG_NODE_TRANSFORMER:
        return of_transformer(lines, n);
    default:
        break;
    }
    if (!isnan(g[SAG_NODE_OHMS_R]) || !isnan(g[SAG_NODE_OHMS_X]))
        return (struct ohms){"cable, ohms given", "", "", "supply file"};
    if (!*n->conductor || !(g[SAG_NODE_LENGTH] > 0))
        return (struct ohms){"cable without length or size", "", "", "taken as zero"};
    struct cable c = cable_of(lines, job, n->conductor,
                              (const uint8_t[]){n->choice[SAG_NODE_MATERIAL], n->choice[SAG_NODE_RACEWAY]});
    c.length = g[SAG_NODE_LENGTH];
    c.sets = isnan(g[SAG_NODE_SETS]) ? 1 : g[SAG_NODE_SETS];
    c.hz = n->hz;
    return of_cable(lines, &c);
}

static void add_ohms(struct sag_lines *lines, const char *symbol, const struct ohms *o, double complex z,
                     const char *referred)
{
    add_line(lines, &(struct symbols){0},
             (struct sag_line){.section = "Path, ohms a phase at the volts of each piece's load end",
                               .symbol = symbol,
                               .words = o->words,
                               .formula = o->formula,
                               .numbers = o->numbers,
                               .value = sag_exact(cabs(z), SAG_COMPUTED),
                               .unit = "ohm",
                               .source = o->source,
                               .note = sheet_text(lines, "R + j X = %s + j %s%s", figures(lines, creal(z), 5),
                                                  figures(lines, cimag(z), 5), referred),
                               .figures = 5});
}

static const char *referred_to(struct sag_lines *lines, const struct sag_supply *supply, int32_t node, int32_t board,
                               double complex z)
{
    double ratio = ratio_from_source(supply, board) / ratio_from_source(supply, node);
    if (fabs(ratio - 1) < 1e-12)
        return "";
    const char *k = figures(lines, ratio, 6);
    return sheet_text(lines, "; at %s, times %s squared: %s + j %s", supply->nodes[board].id, k,
                      figures(lines, creal(z) * ratio * ratio, 5), figures(lines, cimag(z) * ratio * ratio, 5));
}

/* From the source down; a path is short, so looking for the next one each time costs nothing. */
static int32_t next_below(const struct sag_supply *supply, int32_t above, int32_t board)
{
    int32_t at = board;
    while (at >= 0 && supply->nodes[at].parent != above)
        at = supply->nodes[at].parent;
    return at;
}

void add_path_ohms(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t board)
{
    for (int32_t i = -1; job->reports && i != board;) {
        i = next_below(job->supply, i, board);
        struct ohms o = of_node(lines, job, i);
        double complex z = job->grid->nodes[i].r + I * job->grid->nodes[i].x;
        add_ohms(lines, job->supply->nodes[i].id, &o, z, referred_to(lines, job->supply, i, board, z));
    }
}

void add_branch_ohms(struct sag_lines *lines, const struct sag_sheet_job *job, const struct sag_plate *plate)
{
    const struct sag_grid_motor *g = job->grid ? &job->grid->motors[plate - job->plant->list->plates] : NULL;
    if (!g || (g->branch_r == 0 && g->branch_x == 0))
        return;
    struct cable c = cable_of(lines, job, plate->conductor,
                              (const uint8_t[]){plate->choice[SAG_MATERIAL], plate->choice[SAG_RACEWAY]});
    c.length = plate->given[SAG_BRANCH_LENGTH];
    c.sets = 1;
    c.hz = g->hz * g->hz_share;
    struct ohms o = of_cable(lines, &c);
    o.words = sheet_text(lines, "branch %s", o.words);
    add_ohms(lines, "branch", &o, g->branch_r + I * g->branch_x, "");
}

/* --- drops ------------------------------------------------------------------------------------------------------- */

struct flow {
    double volts, amps, power_factor, reactive_factor;
};

/* Phasors laid on the volts behind the piece: exact, whatever the angle. */
static void add_drop(struct sag_lines *lines, struct sag_line line, double complex z, const struct flow *f)
{
    double complex amps = f->amps * (f->power_factor - I * f->reactive_factor);
    double lost = cabs(f->volts + ROOT3 * amps * z) - f->volts;
    const struct symbol extra[] = {{"V", f->volts, 7},         {"I", f->amps, 5},
                                   {"pf", f->power_factor, 4}, {"rf", f->reactive_factor, 4},
                                   {"R", creal(z), 5},         {"X", cimag(z), 5}};
    struct symbols symbols = {NULL, extra, sizeof extra / sizeof *extra};
    bool none = f->amps == 0 || z == 0;
    line.formula = none ? "" : "|V + sqrt3 * I * (pf - j rf) * (R + j X)| - V";
    line.value = sag_exact(lost, SAG_COMPUTED);
    line.unit = "V";
    line.origin = "";
    line.source = "";
    line.figures = 4;
    add_line(lines, &symbols, line);
}

void add_path_drops(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t board, enum sag_case which)
{
    const char *section =
        sheet_text(lines, "Path, %s case: volts lost in each piece, V and I behind it", sag_case_word(which));
    for (int32_t i = -1; job->reports && i != board;) {
        i = next_below(job->supply, i, board);
        const struct sag_board_flow *f = &job->reports[i].of[which];
        const struct sag_grid_node *g = &job->grid->nodes[i];
        double complex z = g->kind == SAG_NODE_GENERATOR ? 0 : g->r + I * g->x;
        struct flow flow = {f->volts_ll, f->amps, f->va > 0 ? f->watts / f->va : 1, f->va > 0 ? f->vars / f->va : 0};
        if (isnan(f->volts_ll))
            return;
        add_drop(
            lines,
            (struct sag_line){.section = section,
                              .symbol = job->supply->nodes[i].id,
                              .words = g->kind == SAG_NODE_GENERATOR ? "its regulator holds the volts"
                                       : g->parent < 0               ? "lost in the source"
                                                                     : "lost on the way to it",
                              .note = sheet_text(lines, "leaves %s V, %s %% of nominal", figures(lines, f->volts_ll, 6),
                                                 figures(lines, 100 * f->volts_ll / g->volts_nominal, 4))},
            z, &flow);
    }
}

void add_branch_drop(struct sag_lines *lines, const struct sag_sheet_job *job, const struct sag_plate *plate,
                     enum sag_case which)
{
    size_t i = (size_t)(plate - job->plant->list->plates);
    const struct sag_grid_motor *g = job->grid ? &job->grid->motors[i] : NULL;
    const struct sag_motor_volts *v = job->plant->volts ? &job->plant->volts[i] : NULL;
    if (!g || !v || (g->branch_r == 0 && g->branch_x == 0) || isnan(v->at_motor[which]) || !(v->amps[which] > 0))
        return;
    double pf = v->power_factor[which];
    struct flow flow = {v->at_motor[which] / g->terminal_share, v->amps[which], pf, sqrt(fmax(1 - pf * pf, 0))};
    add_drop(
        lines,
        (struct sag_line){.section = sheet_text(lines, "Path, %s case: volts lost in each piece, V and I behind it",
                                                sag_case_word(which)),
                          .symbol = "branch",
                          .words = "lost in the branch cable",
                          .note = sheet_text(lines, "leaves %s V", figures(lines, flow.volts, 6))},
        g->branch_r + I * g->branch_x, &flow);
}

#include "read/motor_rules.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "read/conductor.h"

enum sag_status check_plate(const struct row_check *check, const struct sag_plate *p)
{
    enum sag_status status = SAG_OK;
    const double same = 0.03; /* both are rounded */
    if (!p->tag)
        status = refuse_cell(check, "tag", "blank; every motor needs a name of its own");
    if (p->volts_options[0] == 0)
        status = refuse_cell(check, "rated_volts", "blank; read it from the plate; nothing can be judged without it");
    if (isnan(p->given[SAG_RATED_POWER]))
        status = refuse_cell(check, has_column(check->set, check->map, "rated_hp") ? "rated_hp" : "rated_kw",
                             "blank; give rated_hp or rated_kw");
    if (p->given[SAG_PHASES] == 2)
        status = refuse_cell(check, "phases", "2 is not supported; write 1 or 3");
    if (fabs(p->given[SAG_LOAD_POWER] / p->given[SAG_RATED_POWER] - p->given[SAG_LOAD_SHARE]) > same)
        status = refuse_cell(check, "load_hp", "disagrees with load_pct on the same row; give one");
    if (fmod(p->given[SAG_POLES], 2) == 1)
        status = refuse_cell(check, "poles", "must be even");
    return status;
}

/* ORDER STARTING. What start_setting means to a method, with the range in which it can be meant (common practice, no
   source); what other columns it takes. */
static const struct start_method {
    const char *words;   /* of the setting; NULL: it has none */
    double least, most;  /* share */
    const char *of_what; /* the percent is of that */
    bool changes_over, ramps;
} methods[] = {
    [SAG_STARTING_BLANK] = {NULL, 0, 0, NULL, false, false},
    [SAG_STARTING_ACROSS] = {NULL, 0, 0, NULL, false, false},
    [SAG_STARTING_WYE_DELTA] = {"the speed at which it changes over", 0.3, 1, "synchronous speed", true, false},
    [SAG_STARTING_AUTOTRANSFORMER] = {"the tap of an autotransformer", 0.3, 1, "line volts", true, false},
    [SAG_STARTING_PART_WINDING] = {"the speed at which it changes over", 0.3, 1, "synchronous speed", true, false},
    [SAG_STARTING_RESISTOR] = {"the volts behind a resistor", 0.3, 1, "line volts", true, false},
    [SAG_STARTING_REACTOR] = {"the volts behind a reactor", 0.3, 1, "line volts", true, false},
    [SAG_STARTING_SOFT] = {"the current limit of a soft starter", 1, 8, "rated amps", false, true},
    [SAG_STARTING_DRIVE] = {"the current limit of a drive", 0.3, 4, "rated amps", false, true},
};

static enum sag_status check_setting(const struct row_check *check, const struct sag_plate *p)
{
    const struct start_method *m = &methods[p->choice[SAG_STARTING]];
    double setting = p->given[SAG_START_SETTING];
    char given[SAG_NUMBER_ROOM], low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM];
    if (!m->words || !(setting < m->least || setting > m->most))
        return SAG_OK;
    return say_of(check, SAG_ERROR, "start_setting", "%s %% cannot be %s; write %s to %s %% of %s",
                  sag_number_figures(given, 100 * setting, 6), m->words, sag_number_figures(low, 100 * m->least, 6),
                  sag_number_figures(high, 100 * m->most, 6), m->of_what);
}

enum sag_status check_start(const struct row_check *check, const struct sag_plate *p)
{
    const struct start_method *m = &methods[p->choice[SAG_STARTING]];
    const double *g = p->given;
    const char *word = p->choice[SAG_STARTING] ? sag_choice_word(SAG_STARTING, p->choice[SAG_STARTING]) : "blank";
    const struct {
        const char *column;
        bool idle;
        const char *what;
    } notes[] = {
        {"start_setting", !isnan(g[SAG_START_SETTING]) && !m->words, "has no setting"},
        {"transfer_s", !isnan(g[SAG_TRANSFER_TIME]) && !m->changes_over, "does not change over"},
        {"ramp_s", !isnan(g[SAG_RAMP_TIME]) && !m->ramps, "has no ramp"},
    };
    for (size_t i = 0; i < sizeof notes / sizeof *notes; i++)
        if (notes[i].idle)
            say_of(check, SAG_NOTE, notes[i].column, "ignored; starting is %s, which %s", word, notes[i].what);
    if (!isnan(g[SAG_START_DELAY]) && isnan(g[SAG_START_ORDER]))
        say_of(check, SAG_NOTE, "start_delay_s", "ignored; without start_order the motor has no place in the sequence");
    return check_setting(check, p);
}

enum sag_status check_branch(const struct row_check *check, const struct sag_plate *p)
{
    const char *length = used_column(check, "branch_length_ft", "branch_length_m");
    bool has_length = !isnan(p->given[SAG_BRANCH_LENGTH]), has_size = *p->conductor != '\0';
    if (has_length && !has_size && has_column(check->set, check->map, "branch_conductor"))
        say_of(check, SAG_NOTE, length, "ignored without branch_conductor; the motor's own cable is left out");
    if (has_size && !has_length && has_column(check->set, check->map, length))
        say_of(check, SAG_NOTE, "branch_conductor", "ignored without %s; the motor's own cable is left out", length);
    struct conductor_cells cells = {"branch_conductor", p->conductor, p->choice[SAG_MATERIAL]};
    return has_size ? check_material(check, &cells) : SAG_OK;
}

void check_branch_columns(const struct row_check *header)
{
    const char *length = used_column(header, "branch_length_ft", "branch_length_m");
    bool has_length = has_column(header->set, header->map, length);
    bool has_size = has_column(header->set, header->map, "branch_conductor");
    if (has_length && !has_size)
        say_of(header, SAG_NOTE, length,
               "ignored; without a column branch_conductor the motors' own cables are left out");
    if (has_size && !has_length)
        say_of(header, SAG_NOTE, "branch_conductor",
               "ignored; without a column branch_length_ft or branch_length_m the motors' own cables are left out");
}

/* Plate volts over `volts`, of the plate's voltages the one nearest. */
static double nearest_share(const struct sag_plate *p, double volts)
{
    double best = NAN;
    for (int i = 0; i < SAG_VOLTS_OPTIONS && p->volts_options[i] > 0; i++) {
        double share = p->volts_options[i] / volts;
        if (isnan(best) || fabs(log(share)) < fabs(log(best)))
            best = share;
    }
    return best;
}

static bool fits(const struct sag_plate *p, double volts)
{
    return volts > 0 && fabs(nearest_share(p, volts) - 1) <= SAG_VOLTS_APART + 1e-9;
}

static enum sag_system system_of(const struct board_seen *board)
{
    return board->supply ? (enum sag_system)board->supply->nodes[board->node].system : SAG_SYSTEM_WYE;
}

/* The row that says which system is in force at a board: its own, or the nearest above that does. */
static const struct sag_node *row_of_system(const struct board_seen *board)
{
    const struct sag_node *node = &board->supply->nodes[board->node];
    while (node->choice[SAG_NODE_SYSTEM] == SAG_SYSTEM_BLANK && node->parent >= 0)
        node = &board->supply->nodes[node->parent];
    return node;
}

static enum sag_status refuse_neutral(const struct board_seen *board, const char *volts, const struct sag_place *at,
                                      struct sag_diags *diags)
{
    const char *word = system_of(board) == SAG_SYSTEM_DELTA ? "delta" : "ungrounded";
    const char *id = board->supply->nodes[board->node].id;
    struct sag_shown shown;
    return sag_complain(diags, SAG_ERROR, at,
                        "rated_volts: a single-phase motor of %s V needs a neutral, which \"%s\" lacks: system is %s "
                        "on line %u of the supply "
                        "file; write wye there if it has one, or another feeder here",
                        volts, sag_shown(&shown, id, strlen(id)), word, row_of_system(board)->line);
}

/* `as_single`: the volts would do between a line and the neutral. */
static enum sag_status refuse_volts(const struct board_seen *board, const char *volts, bool as_single,
                                    const struct sag_place *at, struct sag_diags *diags)
{
    char nominal[SAG_NUMBER_ROOM], low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM];
    const char *or_what = as_single ? ", or is phases 1 left out" : "";
    sag_number_figures(nominal, board->volts, 5);
    sag_number_figures(low, (1 - SAG_VOLTS_APART) * board->volts, 4);
    sag_number_figures(high, (1 + SAG_VOLTS_APART) * board->volts, 4);
    if (!board->supply)
        return sag_complain(diags, SAG_ERROR, at,
                            "rated_volts: %s V on %s V; is --volts right%s? Plates of %s to %s V are taken", volts,
                            nominal, or_what, low, high);
    return sag_complain(diags, SAG_ERROR, at,
                        "rated_volts: %s V on a %s V board (line %u of the supply file); is the feeder right%s? Plates "
                        "of %s to %s V are taken",
                        volts, nominal, board->supply->nodes[board->node].line, or_what, low, high);
}

enum sag_status check_board(const struct board_seen *board, const struct sag_plate *p, const struct sag_place *at,
                            struct sag_diags *diags)
{
    bool single = p->given[SAG_PHASES] == 1;
    double to_neutral = board->volts * sag_neutral_share(system_of(board), board->volts);
    char volts[SAG_NUMBER_ROOM];
    if (fits(p, board->volts) || (single && fits(p, to_neutral)))
        return SAG_OK;
    sag_number_figures(volts, nearest_share(p, board->volts) * board->volts, 5);
    bool lacks_neutral = single && !(to_neutral > 0);
    if (lacks_neutral && fits(p, board->volts * sag_neutral_share(SAG_SYSTEM_WYE, board->volts)))
        return refuse_neutral(board, volts, at, diags);
    return refuse_volts(board, volts, !single && fits(p, to_neutral), at, diags);
}

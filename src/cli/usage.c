/* Wrong usage that only shows when all options are known. */
#include <string.h>

#include "cli/session.h"

enum sag_status session_usage(struct session *s, const char *what)
{
    sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "%s; see sagband %s --help", what,
                 s->options->command->name);
    return SAG_BAD_USAGE;
}

/* All files that are read, NULL where one is not given. */
static void find_inputs(const struct session *s, const char *inputs[SESSION_FILES])
{
    const struct options *o = s->options;
    inputs[0] = s->motors;
    inputs[1] = o->supply;
    inputs[2] = o->device_curve;
    inputs[3] = o->relay_curve;
    inputs[4] = o->command->of_log ? o->words[0] : NULL;
    inputs[5] = o->measured; /* BOARD=LOG.csv is looked at once the boards are known */
}

bool session_is_input(const struct session *s, const char *path)
{
    const char *inputs[SESSION_FILES];
    bool any = false;
    if (!path)
        return false;
    find_inputs(s, inputs);
    for (int i = 0; i < SESSION_FILES; i++)
        any = any || sag_same_file(path, inputs[i]);
    return any;
}

static int count_from_standard_input(const struct session *s)
{
    const char *inputs[SESSION_FILES];
    int count = 0;
    find_inputs(s, inputs);
    for (int i = 0; i < SESSION_FILES; i++)
        count += inputs[i] && strcmp(inputs[i], "-") == 0;
    return count;
}

static enum sag_status check_log_usage(struct session *s)
{
    const struct options *o = s->options;
    if (!o->words[0])
        return session_usage(s, "no log; name LOG.csv");
    if (o->motors && o->plate)
        return session_usage(s, "both a motor list and --plate; give one of them");
    if (o->supply && o->typed.count)
        return session_usage(s, "both --supply and --volts; give one of them");
    if (o->typed.count == 3)
        return session_usage(s, "--volts is what the log's shares are of; give one voltage");
    if (o->at && !o->supply)
        return session_usage(s, "--at names a board of a supply file; give --supply FILE");
    if (o->measured)
        return session_usage(s, "--measured goes with the other commands; the log stands behind the options");
    if (o->dips && o->findings)
        return session_usage(s, "both --dips and --findings; give one of them");
    size_t n = o->script ? strlen(o->script) : 0;
    if (o->script && (n < sizeof ".gp" || strcmp(o->script + n - 3, ".gp") != 0 || o->script[0] == '-'))
        return session_usage(s, "--script names a file that ends in .gp");
    if (o->script && sag_same_file(o->script, o->output))
        return session_usage(s, "--script and --output name one file");
    if (o->render && !o->script)
        return session_usage(s, "--render draws the script that --script FILE.gp names");
    if (count_from_standard_input(s) > 1)
        return session_usage(s, "standard input can be one of the inputs, not more");
    if (session_is_input(s, o->output) || session_is_input(s, o->script))
        return session_usage(s, "--output or --script names an input; it would be overwritten");
    if (o->supply && o->typed.hz > 0)
        return session_usage(s, "--hz goes with --volts; a supply file has its own hz column");
    return SAG_OK;
}

enum sag_status session_check_usage(struct session *s, const char *motors)
{
    const struct options *o = s->options;
    if (o->command->of_log)
        return check_log_usage(s);
    if (o->motors || o->at || o->script || o->dips)
        return session_usage(s, "--motors, --at, --script and --dips go with survey");
    if (!motors && !o->plate)
        return session_usage(s, s->options->word_count
                                    ? "write the motor's tag, then MOTORS.csv"
                                    : "no motor list; name MOTORS.csv, or type one motor with --plate");
    if (motors && o->plate)
        return session_usage(s, "both a motor list and --plate; give one of them");
    if (o->command->of_boards && !o->supply)
        return session_usage(s, "the boards and the path to them stand in a supply file; give --supply FILE");
    if (o->command->of_boards && o->motor)
        return session_usage(s, "--motor does not go with boards; --feeder names one");
    if (o->typed.count == 3 && o->measured)
        return session_usage(s, "both three measured --volts and --measured; give one of them");
    if (!o->supply && o->typed.count == 0 && !o->measured)
        return session_usage(s, "no supply; give --supply FILE or --volts V");
    if (o->supply && o->typed.count)
        return session_usage(s, "both --supply and --volts; give one of them");
    if (o->supply && motors && strcmp(o->supply, "-") == 0 && strcmp(motors, "-") == 0)
        return session_usage(s, "standard input can be the motor list or the supply file, not both");
    if (count_from_standard_input(s) > 1)
        return session_usage(s, "standard input can be one of the inputs, not more");
    if (o->sequence && o->together)
        return session_usage(s, "both --sequence and --together; give one of them");
    if (session_is_input(s, o->output))
        return session_usage(s, "--output names an input; it would be overwritten");
    if (o->supply && o->typed.hz > 0)
        return session_usage(s, "--hz goes with --volts; a supply file has its own hz column");
    return SAG_OK;
}

#include "cli/options.h"

#include <getopt.h>
#include <string.h>

#include "base/number.h"

static bool complain(const char *option, const char *value, const char *wanted)
{
    struct sag_shown shown;
    fprintf(stderr, "sagband: --%s: \"%s\" %s\n", option, sag_shown(&shown, value, strlen(value)), wanted);
    return false;
}

static bool take_volts(struct options *o, const char *value)
{
    const double least = 20, most = 765000;
    struct sag_typed_volts *t = &o->typed;
    size_t start = 0, length = strlen(value);
    for (t->count = 0; start <= length; t->count++) {
        size_t n = strcspn(value + start, ",");
        double volts = 0;
        if (t->count == 3 || sag_number_read(value + start, n, '.', &volts) != SAG_NUMBER_OK)
            return complain("volts", value, "is not a voltage or three measured ones; write 480 or 478,481,469");
        if (volts < least || volts > most)
            return complain("volts", value, "is outside 20 to 765000 V");
        t->line[t->count] = volts;
        start += n + 1;
    }
    if (t->count == 2)
        return complain("volts", value, "gives two voltages; give one (nominal) or three (measured)");
    if (t->count == 3 && !sag_lines_close(t->line))
        return complain("volts", value, "cannot be line voltages: the largest is not less than the other two together");
    return true;
}

static bool take_hz(struct options *o, const char *value)
{
    double hz = 0;
    if (sag_number_read(value, strlen(value), '.', &hz) != SAG_NUMBER_OK || hz < 15 || hz > 400)
        return complain("hz", value, "is not a frequency from 15 to 400");
    o->typed.hz = hz;
    return true;
}

static bool take_format(struct options *o, const char *value)
{
    o->format = value;
    return sag_writer_find(value) ? true : complain("format", value, "is not text, csv or json");
}

static bool take_case(struct options *o, const char *value)
{
    bool all = strcmp(value, "all") == 0, found = all;
    for (int i = 0; i < SAG_CASE_COUNT; i++) {
        bool named = strcmp(value, sag_case_word((enum sag_case)i)) == 0;
        o->cases[i] = all || named;
        found = found || named;
    }
    return found ? true : complain("case", value, "is not nominal, low, high, measured or all");
}

static bool take_render(struct options *o, const char *value)
{
    static const char *const pictures[] = {"png", "svg", "pdf"};
    o->render = value;
    for (size_t i = 0; i < sizeof pictures / sizeof *pictures; i++)
        if (strcmp(value, pictures[i]) == 0)
            return true;
    return complain("render", value, "is not png, svg or pdf");
}

static bool take_device(struct options *o, const char *value)
{
    const char *word;
    for (unsigned kind = SAG_DEVICE_BLANK + 1; (word = sag_choice_word(SAG_DEVICE, kind)); kind++)
        if (strcmp(value, word) == 0) {
            o->device = (enum sag_device)kind;
            return true;
        }
    return complain("device", value,
                    "is not dual_element_fuse, nontime_fuse, inverse_time_breaker or instantaneous_breaker");
}

static bool take_insulation(struct options *o, const char *value)
{
    o->insulation_c = strcmp(value, "60") == 0 ? 60 : strcmp(value, "75") == 0 ? 75 : strcmp(value, "90") == 0 ? 90 : 0;
    return o->insulation_c ? true : complain("insulation", value, "is not 60, 75 or 90");
}

static bool take_terminals(struct options *o, const char *value)
{
    o->terminal_c = strcmp(value, "60") == 0 ? 60 : strcmp(value, "75") == 0 ? 75 : 0;
    return o->terminal_c ? true : complain("terminals", value, "is not 60 or 75");
}

static bool take_starts(struct options *o, const char *value)
{
    double count = 0;
    bool number = sag_number_read(value, strlen(value), '.', &count) == SAG_NUMBER_OK;
    if (!number || count < 1 || count > 1e9 || count != (double)(size_t)count)
        return complain("starts", value, "is not a count of motors");
    o->most_starts = (size_t)count;
    return true;
}

#define TAKE_TEXT(field)                                                                                               \
    static bool take_##field(struct options *o, const char *value)                                                     \
    {                                                                                                                  \
        o->field = value;                                                                                              \
        return true;                                                                                                   \
    }
#define TAKE_FLAG(name, field, setting)                                                                                \
    static bool take_##name(struct options *o, const char *value)                                                      \
    {                                                                                                                  \
        (void)value;                                                                                                   \
        o->field = setting;                                                                                            \
        return true;                                                                                                   \
    }
TAKE_TEXT(supply)
TAKE_TEXT(plate)
TAKE_TEXT(output)
TAKE_TEXT(feeder)
TAKE_TEXT(motor)
TAKE_TEXT(device_curve)
TAKE_TEXT(relay_curve)
TAKE_TEXT(measured)
TAKE_TEXT(motors)
TAKE_TEXT(at)
TAKE_TEXT(script)
TAKE_FLAG(si, us, false)
TAKE_FLAG(us, us, true)
TAKE_FLAG(strict, strict, true)
TAKE_FLAG(quiet, quiet, true)
TAKE_FLAG(force, force, true)
TAKE_FLAG(findings, findings, true)
TAKE_FLAG(sequence, sequence, true)
TAKE_FLAG(together, together, true)
TAKE_FLAG(trace, trace, true)
TAKE_FLAG(advice, advice, true)
TAKE_TEXT(title)
TAKE_FLAG(no_pictures, no_pictures, true)
TAKE_FLAG(dips, dips, true)
TAKE_FLAG(help, help, true)
TAKE_FLAG(version, version, true)

static const struct option_row {
    char letter; /* 0: long name only */
    const char *name, *value;
    bool (*take)(struct options *options, const char *value);
    const char *help;
} rows[] = {
    {'s', "supply", "FILE", take_supply, "supply path (CSV)"},
    {'v', "volts", "V|V1,V2,V3", take_volts, "nominal, or three measured line voltages, instead of a supply file"},
    {0, "hz", "F", take_hz, "supply frequency; default 60 (with a supply file: its hz)"},
    {0, "plate", "COL=VALUE,...", take_plate, "one motor typed on the spot, instead of MOTORS.csv"},
    {0, "feeder", "ID", take_feeder, "only motors of this feeder; supply: only boards on the way to this one"},
    {0, "motor", "TAG", take_motor, "only this motor"},
    {0, "case", "CASE", take_case, "nominal, low, high, measured or all (default)"},
    {'f', "format", "FORMAT", take_format, "text (default), csv or json (one object a line)"},
    {'o', "output", "PATH", take_output, "file; plot, report: folder; default: standard output, current folder"},
    {0, "sequence", NULL, take_sequence, "start: by start_order and start_delay_s; those without an order run before"},
    {0, "together", NULL, take_together, "start: all at once, after an outage"},
    {0, "trace", NULL, take_trace, "start: the time series of one case (nominal unless --case says otherwise)"},
    {0, "advice", NULL, take_advice, "start: changes that were tried and make failing starts pass, as a table"},
    {0, "device", "KIND", take_device, "protect, plot: kind sized where none is there (default inverse_time_breaker)"},
    {0, "terminals", "60|75", take_terminals, "protect, plot: degC terminals are listed for; default by 110.14(C)(1)"},
    {0, "insulation", "60|75|90", take_insulation, "protect, plot: degC of the wires' insulation (default 75)"},
    {0, "device-curve", "FILE", take_device_curve,
     "the maker's curve of the device (CSV time_s,multiple), for protect, explain, plot"},
    {0, "relay-curve", "FILE", take_relay_curve, "the same of the overload relay, from cold"},
    {0, "measured", "[BOARD=]LOG.csv", take_measured, "a recorder's log of line volts makes the measured case"},
    {0, "motors", "FILE", take_motors, "survey: the motor list whose plates the log is held against"},
    {0, "at", "BOARD", take_at,
     "survey: board of the supply file that the log was taken at (default: the first with motors)"},
    {0, "dips", NULL, take_dips, "survey: dips, swells and interruptions as a table"},
    {0, "script", "FILE.gp", take_script, "survey: write the picture's gnuplot script as well (--render draws it)"},
    {0, "findings", NULL, take_findings, "the findings as a table instead of what the command prints"},
    {0, "render", "png|svg|pdf", take_render, "draw the pictures as well (plot, report, survey; needs gnuplot)"},
    {0, "title", "TEXT", take_title, "report: what stands over the page, as the plant's name"},
    {0, "no-pictures", NULL, take_no_pictures, "report: write the scripts, but draw nothing"},
    {0, "starts", "N", take_starts, "report: run the N hardest starts (default: all of up to 300 motors)"},
    {0, "force", NULL, take_force, "overwrite files that exist"},
    {0, "strict", NULL, take_strict, "an assumed input is an error"},
    {0, "si", NULL, take_si, "show N m and kg m2 (default)"},
    {0, "us", NULL, take_us, "show lb ft and lb ft2"},
    {'q', "quiet", NULL, take_quiet, "no notes and no closing line"},
    {'h', "help", NULL, take_help, "this help; sagband COMMAND --help for one command"},
    {0, "version", NULL, take_version, "print the version"},
};

enum {
    ROWS = sizeof rows / sizeof *rows,
    LONG_ONLY = 256 /* getopt values of options without a letter start here */
};

static const struct command commands[] = {
    {"check", "MOTORS.csv", "what each motor draws, whether its volts lie in the band, what they do to it", "motor", 1,
     false, false, false, false, cmd_check},
    {"supply", "MOTORS.csv", "volts, power and fault current at each board (needs --supply)", "board", 1, true, false,
     false, false, cmd_supply},
    {"start", "MOTORS.csv", "whether each motor starts, and what its start does to the rest", "motor", 1, false, true,
     false, false, cmd_start},
    {"protect", "MOTORS.csv", "conductors, overloads, devices, transformers; whether they let each motor start",
     "circuit", 1, false, true, false, false, cmd_protect},
    {"plot", "MOTORS.csv", "gnuplot scripts for each feeder (and pictures with --render)", "motor", 1, false, true,
     false, false, cmd_plot},
    {"report", "MOTORS.csv", "one page with findings, tables, pictures, cautions and sources (-o FOLDER)", "motor", 1,
     false, true, false, true, cmd_report},
    {"explain", "TAG MOTORS.csv", "the calculation sheet of one motor or feeder", "motor", 2, false, true, false, false,
     cmd_explain},
    {"survey", "LOG.csv", "a recorder's log of volts against the bands of plates; its dips and swells", "motor", 1,
     false, false, true, false, cmd_survey},
    {"tables", "[NAME]", "the built-in reference tables with edition and source", "", 1, false, false, false, false,
     cmd_tables},
    {"template", "motors|supply", "a starter CSV", "", 1, false, false, false, false, cmd_template},
};

const struct command *command_at(size_t index)
{
    return index < sizeof commands / sizeof *commands ? &commands[index] : NULL;
}

static const struct command *find_command(const char *name)
{
    for (size_t i = 0; command_at(i); i++)
        if (strcmp(command_at(i)->name, name) == 0)
            return command_at(i);
    return NULL;
}

static void fill_getopt(struct option long_options[ROWS + 1], char letters[2 * ROWS + 2])
{
    size_t n = 0;
    letters[n++] = ':';
    for (int i = 0; i < ROWS; i++) {
        int value = rows[i].letter ? rows[i].letter : LONG_ONLY + i;
        long_options[i] = (struct option){rows[i].name, rows[i].value ? required_argument : no_argument, NULL, value};
        if (rows[i].letter) {
            letters[n++] = rows[i].letter;
            if (rows[i].value)
                letters[n++] = ':';
        }
    }
    letters[n] = '\0';
    long_options[ROWS] = (struct option){0};
}

static bool take_option(struct options *out, int value)
{
    for (int i = 0; i < ROWS; i++)
        if (value == (rows[i].letter ? rows[i].letter : LONG_ONLY + i))
            return rows[i].take(out, optarg);
    return false;
}

static bool take_words(int argc, char **argv, struct options *out)
{
    int at = optind;
    if (at < argc && !out->command) {
        out->command = find_command(argv[at]);
        if (!out->command) {
            struct sag_shown shown;
            fprintf(stderr, "sagband: \"%s\" is not a command; see sagband --help\n",
                    sag_shown(&shown, argv[at], strlen(argv[at])));
            return false;
        }
        at++;
    }
    for (; at < argc; at++) {
        if (out->word_count == out->command->most_words) {
            struct sag_shown shown;
            fprintf(stderr, "sagband: \"%s\" is one word too many; see sagband %s --help\n",
                    sag_shown(&shown, argv[at], strlen(argv[at])), out->command->name);
            return false;
        }
        out->words[out->word_count++] = argv[at];
    }
    return true;
}

bool parse_options(int argc, char **argv, struct options *out)
{
    struct option long_options[ROWS + 1];
    char letters[2 * ROWS + 2];
    fill_getopt(long_options, letters);
    *out = (struct options){.format = "text"};
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        out->cases[i] = true;
    opterr = 0;
    for (int value; (value = getopt_long(argc, argv, letters, long_options, NULL)) != -1;) {
        if (value == '?' || value == ':') {
            const char letter[] = {'-', (char)optopt, '\0'};
            bool is_letter = optopt > 0 && optopt < LONG_ONLY && strncmp(argv[optind - 1], "--", 2) != 0;
            const char *given = is_letter ? letter : argv[optind - 1];
            struct sag_shown shown;
            fprintf(stderr, "sagband: %s %s; see sagband --help\n", sag_shown(&shown, given, strlen(given)),
                    value == ':' ? "needs a value" : "is not an option");
            return false;
        }
        if (!take_option(out, value))
            return false;
    }
    if (!take_words(argc, argv, out))
        return false;
    if (!out->command && !out->help && !out->version) {
        print_help(stderr, NULL);
        return false;
    }
    return true;
}

static void print_options(FILE *stream)
{
    fputs("\nOptions\n", stream);
    for (int i = 0; i < ROWS; i++) {
        char left[48];
        snprintf(left, sizeof left, "--%s%s%s", rows[i].name, rows[i].value ? " " : "",
                 rows[i].value ? rows[i].value : "");
        fprintf(stream, "  %c%c%c %-24s %s\n", rows[i].letter ? '-' : ' ', rows[i].letter ? rows[i].letter : ' ',
                rows[i].letter ? ',' : ' ', left, rows[i].help);
    }
}

void print_help(FILE *stream, const struct command *command)
{
    if (command) {
        fprintf(stream, "sagband %s [OPTIONS] %s\n\n%s.\n", command->name, command->words, command->answers);
    } else {
        fputs("sagband COMMAND [OPTIONS] MOTORS.csv\n\nVoltage tolerance and starting of motors on a supply.\n\n"
              "Commands\n",
              stream);
        for (size_t i = 0; command_at(i); i++)
            fprintf(stream, "  %-10s %s\n", command_at(i)->name, command_at(i)->answers);
    }
    print_options(stream);
    fputs("\nExit status: 0 all well (ok, watch or unknown); 1 at least one fail; 2 wrong usage or unusable\n"
          "input; 3 could not write. \"-\" as MOTORS.csv reads standard input.\n",
          stream);
}

void print_completions(FILE *stream)
{
    for (size_t i = 0; command_at(i); i++)
        fprintf(stream, "%s\n", command_at(i)->name);
    for (int i = 0; i < ROWS; i++)
        fprintf(stream, "--%s\n", rows[i].name);
}

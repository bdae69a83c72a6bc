/* Names that would like to be something else: a command, a path, markup. Scripts are drawn by the real gnuplot. */
#include "hostile_help.h"

/* One motor a name: the name is its tag, or the feeder that it hangs on. */
static void write_list(void **state, bool as_feeder)
{
    char path[80];
    snprintf(path, sizeof path, "%s/m.csv", (char *)*state);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("tag,feeder,note,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,service_factor\n", file);
    for (size_t i = 0; i <= COUNT(names); i++) {
        char other[20], longest[2101];
        snprintf(other, sizeof other, "M-%zu", i);
        snprintf(longest, sizeof longest, "%02100d", 7);
        const char *name = i < COUNT(names) ? names[i] : longest;
        put_cell(file, as_feeder ? other : name, *state);
        fputc(',', file);
        put_cell(file, as_feeder ? name : "", *state);
        fputc(',', file);
        put_cell(file, name, *state);
        fputs(",460,50,1775,94.5,0.86,1.15\n", file);
    }
    fclose(file);
}

/* Nothing was executed, and nothing lies outside the folder of the plots. */
static void check_folder(void **state)
{
    expect(state, "test ! -e $D/m", 0);
    expect(state,
           "test \"$(cd $D && find . ! -path './a/b/plots/*' | sort | tr '\\n' ' ')\" = "
           "'. ./a ./a/b ./a/b/plots ./m.csv '",
           0);
    expect(state, "! ls -A $D/a/b/plots | grep -vE '^[A-Za-z0-9_][A-Za-z0-9_.-]*[.](gp|png|svg|pdf)$'", 0);
}

/* Beside every script stands its picture. */
static void check_pictures(void **state, const char *kind, const char *begins)
{
    char command[300];
    snprintf(command, sizeof command,
             "cd $D/a/b/plots && for s in *.gp; do head -c 400 \"${s%%.gp}.%s\" | grep -aq '%s' || exit 1; done", kind,
             begins);
    expect(state, command, 0);
}

static void plot(void **state, bool as_feeder, const char *kind, int least)
{
    char command[300];
    write_list(state, as_feeder);
    expect(state, "mkdir -p $D/a/b", 0);
    snprintf(command, sizeof command, "cd $D/a/b && sagband plot -q -v 480 --render %s -o plots ../../m.csv", kind);
    expect(state, command, 0);
    snprintf(command, sizeof command, "test $(ls $D/a/b/plots/*.gp | wc -l) -ge %d", least);
    expect(state, command, 0);
    check_folder(state);
}

static bool has_gnuplot(void **state)
{
    struct ran ran;
    run_in(state, "gnuplot --version", &ran);
    bool has = ran.status == 0;
    free_ran(&ran);
    return has;
}

static void tags_in_pictures(void **state)
{
    if (!has_gnuplot(state))
        skip();
    plot(state, false, "png", 3);
    check_pictures(state, "png", "PNG");
}

static void tags_in_markup(void **state)
{
    if (!has_gnuplot(state))
        skip();
    plot(state, false, "svg", 3);
    check_pictures(state, "svg", "<svg");
    expect(state, "! grep -l '<script>alert' $D/a/b/plots/*.svg", 0);
}

/* Each feeder names six files. */
static void feeders_in_file_names(void **state)
{
    if (!has_gnuplot(state))
        skip();
    plot(state, true, "png", 6 * (int)COUNT(names) + 6);
    check_pictures(state, "png", "PNG");
}

static void plot_supply(void **state, bool as_feeder, int least)
{
    char command[300];
    write_supply(state, !as_feeder);
    write_started(state, as_feeder);
    expect(state, "mkdir -p $D/a/b", 0);
    expect(state, "cd $D/a/b && sagband plot -q -s ../../s.csv --render png -o plots ../../m.csv; test $? -lt 2", 0);
    snprintf(command, sizeof command,
             "for k in profile sag torque timecurrent sizes; do test $(ls $D/a/b/plots/*-$k*.gp | wc -l) -ge %d || "
             "exit 1; done",
             least);
    expect(state, command, 0);
    expect(state, "rm $D/s.csv", 0);
    check_folder(state);
    check_pictures(state, "png", "PNG");
}

static void names_in_pictures_of_starts(void **state)
{
    if (!has_gnuplot(state))
        skip();
    plot_supply(state, false, 1);
}

static void feeders_in_pictures_of_starts(void **state)
{
    if (!has_gnuplot(state))
        skip();
    plot_supply(state, true, COUNT(names));
}

/* A start that the network cannot carry leaves panels without a line in them; they are drawn all the same. */
static void collapse_is_drawn(void **state)
{
    if (!has_gnuplot(state))
        skip();
    expect(
        state,
        "cd $D && printf 'id,fed_from,kind,nominal_volts,fault_mva,load_kw,load_pf,load_kind\\n"
        "MAIN,,utility,480,0.5,95,0.9,power\\n' >s.csv && printf 'tag,feeder,rated_volts,rated_hp,rpm,load,load_pct\\n"
        "P1,MAIN,460,50,1775,fan,10\\n' >m.csv",
        0);
    expect(state, "cd $D && sagband plot -q --case nominal --render png -s s.csv -o p m.csv; test $? -lt 2", 0);
    expect(state,
           "grep -q 'volts collapse' $D/p/MAIN-sag.gp && grep -q 'volts collapse' $D/p/MAIN-timecurrent.gp && "
           "for k in sag torque timecurrent; do test -s $D/p/MAIN-$k.png || exit 1; done",
           0);
}

/* Scripts of a folder whose own name is odd. */
static void odd_folders(void **state)
{
    static const char *const folders[] = {"'a b'", "\"it's\"", "'`touch m`'", "'x\";y'", "./-e", "'@x'"};
    if (!has_gnuplot(state))
        skip();
    for (size_t i = 0; i < COUNT(folders); i++) {
        char command[300];
        snprintf(command, sizeof command,
                 "P=$(pwd); mkdir -p $D/w; cd $D/w && sagband plot -q -v 480 --render png -o %s $P/" ONE_MOTOR
                 " && test $(ls -A | wc -l) = 1 && test $(ls -A ./* | wc -l) = 12; s=$?; rm -rf $D/w; exit $s",
                 folders[i]);
        expect(state, command, 0);
        expect(state, "test -z \"$(ls -A $D)\"", 0);
    }
}

/* Nothing of what a command printed is such as a terminal would obey, nothing was executed; most: its highest status.
 */
static void check_printed(void **state, const char *line, int most)
{
    char command[400];
    snprintf(command, sizeof command, "%s >$D/out 2>$D/err; test $? -le %d && cat $D/out $D/err >$D/all", line, most);
    expect(state, command, 0);
    expect(state, "! LC_ALL=C grep -q \"$(printf '[\\001-\\010\\013-\\037\\177]')\" $D/all", 0);
    expect(state, "! LC_ALL=C grep -q \"$(printf '\\342\\200\\256')\" $D/all", 0);
    expect(state, "test ! -e $D/m", 0);
}

/* Text, csv, json and sheets of the same list: nothing that a terminal or a sheet would obey. */
static void names_in_text(void **state)
{
    static const char *const commands[] = {"sagband check -q -v 480 $D/m.csv", "sagband check -q -v 520 $D/m.csv",
                                           "sagband explain M-3 -q -v 480 $D/m.csv",
                                           "sagband explain '@m' -q -v 480 $D/m.csv"};
    for (int as_feeder = 0; as_feeder < 2; as_feeder++) {
        write_list(state, as_feeder);
        for (size_t i = 0; i < COUNT(commands); i++)
            check_printed(state, commands[i], 2);
    }
}

/* The schedule of circuits and what is said of them: as tags, and as ids of boards one below the other. */
static void names_in_schedules(void **state)
{
    static const char *const commands[] = {
        "sagband protect -q --case nominal -s $D/s.csv $D/m.csv",
        "sagband protect -q --case nominal --findings -s $D/s.csv $D/m.csv",
        "sagband explain '@m' -q --case nominal -s $D/s.csv $D/m.csv",
        "sagband explain '=cmd(1)' -q --case nominal -s $D/s.csv $D/m.csv",
    };
    for (int as_feeder = 0; as_feeder < 2; as_feeder++) {
        write_supply(state, !as_feeder);
        write_started(state, as_feeder);
        for (size_t i = 0; i < COUNT(commands); i++)
            check_printed(state, commands[i], 1);
    }
}

/* The sheet of a feeder names every board above it, and the motors that its sizes rest on. */
static void names_in_a_feeder_sheet(void **state)
{
    static const char *const formats[] = {"text", "csv", "json"};
    char path[80];
    write_supply(state, true);
    snprintf(path, sizeof path, "%s/m.csv", (char *)*state);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("tag,feeder,rated_volts,rated_hp,rpm\n\"x\x1B[2Jy\",", file);
    put_cell(file, names[COUNT(names) - 1], *state);
    fputs(",460,5,1750\n", file);
    fclose(file);
    for (size_t i = 0; i < COUNT(formats); i++) {
        char command[200];
        snprintf(command, sizeof command, "sagband explain '%s' -q --case nominal -f %s -s $D/s.csv $D/m.csv",
                 names[COUNT(names) - 1], formats[i]);
        if (i == 0)
            check_printed(state, command, 1);
        else
            expect(state, strcat(command, " >$D/out; test $? -le 1 -a ! -e $D/m"), 0);
    }
}

TEST_LIST(hostile, IN_FOLDER(tags_in_pictures), IN_FOLDER(tags_in_markup), IN_FOLDER(feeders_in_file_names),
          IN_FOLDER(names_in_pictures_of_starts), IN_FOLDER(feeders_in_pictures_of_starts),
          IN_FOLDER(collapse_is_drawn), IN_FOLDER(odd_folders), IN_FOLDER(names_in_text), IN_FOLDER(names_in_schedules),
          IN_FOLDER(names_in_a_feeder_sheet))

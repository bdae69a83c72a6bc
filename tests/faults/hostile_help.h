/* Names that would like to be something else, in the lists that hold them. */
#ifndef TESTS_HOSTILE_HELP_H
#define TESTS_HOSTILE_HELP_H

#include "faults_help.h"

/* %s is the folder; what is executed leaves a file `m` there. */
static const char *const names[] = {
    "`touch %s/m`",
    "$(touch %s/m)",
    "\"; system(\"touch %s/m\") #",
    "'; system('touch %s/m') #",
    "\\'; system('touch %s/m') #",
    "\\\\'; system('touch %s/m') #",
    "'.system('touch %s/m').'",
    "''.system('touch %s/m')",
    "x\nsystem('touch %s/m')",
    "x\n!touch %s/m",
    "x\r!touch %s/m",
    "x' at 1,1\n!touch %s/m",
    "EOD\n!touch %s/m",
    "EOD\nset print '%s/m'; print 1",
    "|touch %s/m",
    "< touch %s/m",
    ";touch %s/m;",
    "&& touch %s/m",
    "';set output '%s/m'; #",
    "<script>alert(1)</script>",
    "=cmd(1)",
    "@m",
    "-e",
    "--help",
    "..",
    ".",
    "../x",
    "../../x",
    "../../../../../../tmp/x",
    "/",
    "%s/m",
    "a/b",
    "a\\b",
    "C:\\x",
    "x\xE2\x80\xAEgpj.exe",
    "x\xE2\x80\x8Fy",
    "x\x1B[2Jy",
    "+1+1",
    "-1-1",
    "a;=b",
    "x\n=1",
    "x\"\n=1,\"",
    "\xEF\xBC\x9D"
    "cmd(1)",
    "\xE2\x80\x8B=1",
    "\xEF\xBB\xBF=1",
    "x\x01y",
    "x\x7Fy",
    "x\xC2\x9B"
    "2Jy",
    "x\xE2\x80\xA8y",
    "x\xE2\x81\xA6y\xE2\x81\xA9",
    "x\xF3\xA0\x81\x81y",
    "x\xC2\xADy",
    "\"",
    "'",
    "%%n%%n",
    "{/=40 x}_y^z~",
    "*",
    "x y",
    "NaN",
    "con",
    "\xE7\x94\xB5\xE6\x9C\xBA",
};

/* A cell in quotes, `%s` in it replaced by the folder. */
static inline void put_cell(FILE *file, const char *name, const char *folder)
{
    fputc('"', file);
    for (const char *c = name; *c; c++) {
        if (strncmp(c, "%s", 2) == 0) {
            fputs(folder, file);
            c++;
        } else {
            fputs(*c == '"' ? "\"\"" : (const char[2]){*c, '\0'}, file);
        }
    }
    fputc('"', file);
}

/* A supply whose boards bear the names, one below the source each, or one below the other so that a path shows them. */
static inline void write_supply(void **state, bool in_a_row)
{
    char path[80];
    snprintf(path, sizeof path, "%s/s.csv", (char *)*state);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("id,fed_from,kind,nominal_volts,system,fault_mva,length_ft,conductor,material,raceway\n"
          "UTIL,,utility,480,wye,9,,,,\n",
          file);
    for (size_t i = 0; i < COUNT(names); i++) {
        put_cell(file, names[i], *state);
        fputc(',', file);
        put_cell(file, in_a_row && i > 0 ? names[i - 1] : "UTIL", *state);
        fputs(",cable,,,,5,500,cu,steel\n", file);
    }
    fclose(file);
}

/* A motor large enough to be drawn on each board, or all of them on the last. */
static inline void write_started(void **state, bool as_feeder)
{
    char path[80];
    snprintf(path, sizeof path, "%s/m.csv", (char *)*state);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("tag,feeder,rated_volts,rated_hp,rpm,starting,start_order\n", file);
    for (size_t i = 0; i < COUNT(names); i++) {
        put_cell(file, names[i], *state);
        fputc(',', file);
        put_cell(file, names[as_feeder ? i : COUNT(names) - 1], *state);
        fprintf(file, ",460,%d,1775,wye_delta,%zu\n", 20 + (int)i, i + 1);
    }
    fclose(file);
}

#endif

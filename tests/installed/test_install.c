/* `make install` into a folder of its own: what is there, with which rights, and that nothing is left after
   `make uninstall`. */
#include <stdio.h>
#include <string.h>

#include "installed/installed.h"

static const struct {
    const char *mode, *path;
} wanted[] = {
    {"755", "bin/sagband"},
    {"644", "lib/libsagband.a"},
    {"644", "lib/pkgconfig/sagband.pc"},
    {"644", "share/bash-completion/completions/sagband"},
    {"644", "share/man/man1/sagband.1"},
};

/* "644 path" lines of all that is there, sorted; headers and pages by themselves. */
static void files_and_rights(void **state)
{
    struct ran ran;
    char list[1024] = "";
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        snprintf(list + strlen(list), sizeof list - strlen(list), "%s %s\n", wanted[i].mode, wanted[i].path);
    run_staged(state,
               "umask 077; house_make install && cd \"$P\" && "
               "find . ! -type d ! -path './include/*' ! -path './share/doc/*' -printf '%m %P\\n' | LC_ALL=C sort -k 2",
               &ran);
    check_text("files", ran.out, list);
    free_ran(&ran);
}

/* All headers, the very bytes, and none besides. */
static void headers(void **state)
{
    do_staged(state, "house_make install && diff -r include \"$P/include\" && "
                     "test -z \"$(find \"$P/include\" -type f ! -perm 644)\"");
}

/* The pages with their pictures, laid out as in the tree so that their links hold. */
static void pages(void **state)
{
    do_staged(state,
              "house_make install && cd \"$P/share/doc/sagband\" && diff -r docs/pictures $OLDPWD/docs/pictures && "
              "for f in *.md LICENSE docs/*.md docs/*.c; do cmp \"$f\" \"$OLDPWD/$f\" || exit; done && "
              "test $(ls docs/*.md | wc -l) -eq $(ls $OLDPWD/docs/*.md | wc -l) && "
              "test -z \"$(find . -type f ! -perm 644)\"");
}

static void links_of_the_pages(void **state)
{
    struct ran ran;
    run_staged(state,
               "house_make install && cd \"$P/share/doc/sagband\" && for f in *.md docs/*.md; do "
               "(cd \"$(dirname $f)\" && grep -ohE '\\]\\([^)#]+' $(basename $f) | sed 's,](,,' | grep -v : | "
               "while read n; do test -e $n || echo $f $n; done); done",
               &ran);
    check_text("links that lead nowhere", ran.out, "");
    free_ran(&ran);
}

/* Others have to reach what root put there, whatever root's umask. */
static void folders_are_open(void **state)
{
    struct ran ran;
    run_staged(state, "umask 077; house_make install && find \"$D/opt\" -type d ! -perm 755", &ran);
    check_text("folders that not everyone may enter", ran.out, "");
    free_ran(&ran);
}

/* Nothing outside DESTDIR, nothing in it but the prefix. */
static void nothing_beside(void **state)
{
    struct ran ran;
    run_staged(state,
               "house_make install && test ! -e '" PREFIX "' && "
               "find \"$D\" -mindepth 1 -maxdepth 2 -printf '%P\n' | LC_ALL=C sort",
               &ran);
    check_text("top", ran.out, "opt\nopt/motor tools\n");
    free_ran(&ran);
}

/* Files of others in the same folders stay. */
static void uninstall(void **state)
{
    struct ran ran;
    run_staged(state,
               "house_make install && touch \"$P/bin/other\" && house_make uninstall && cd \"$P\" && "
               "find . ! -type d -printf '%P\\n' && find . -name '*sagband*'",
               &ran);
    check_text("left", ran.out, "bin/other\n");
    free_ran(&ran);
}

/* The one that was installed runs, needs nothing of the tree, and has the version that pkg-config tells. */
static void runs_from_there(void **state)
{
    do_staged(state, "house_make install && export PKG_CONFIG_PATH=\"$P/lib/pkgconfig\" && cd / && "
                     "test \"$(\"$P/bin/sagband\" --version)\" = \"sagband $(pkg-config --modversion sagband)\" && "
                     "\"$P/bin/sagband\" check -v 480 --plate rated_volts=460,rated_hp=10 >/dev/null");
}

struct flags_row {
    const char *name, *command, *wanted;
};

/* Rows of what pkg-config must say. gsl and jansson come from their own files, so their places are not looked at. */
static const struct flags_row flags_rows[] = {
    {"where it was installed to", "pkg-config --cflags sagband", "-I/opt/motor\\ tools/include"},
    {"libraries", "pkg-config --libs sagband", "-L/opt/motor\\ tools/lib -lsagband -lcsv "},
    {"libraries it needs", "pkg-config --libs-only-l sagband", "-lgsl "},
    {"libraries it needs", "pkg-config --libs-only-l sagband", "-ljansson"},
    {"linked as a whole", "pkg-config --static --libs sagband", "-L/opt/motor\\ tools/lib -lsagband -lcsv "},
    {"staged", "PKG_CONFIG_SYSROOT_DIR=$D pkg-config --cflags sagband", "/opt/motor\\ tools/include"},
    {"staged", "PKG_CONFIG_SYSROOT_DIR=$D pkg-config --cflags sagband | sed s,$D,ROOT,", "-IROOT/opt/motor"},
    {"staged", "PKG_CONFIG_SYSROOT_DIR=$D pkg-config --libs sagband | sed s,$D,ROOT,", "-LROOT/opt/motor"},
    {"well formed", "pkg-config --validate sagband && echo fine", "fine"},
    {"one word of each flag", "eval set -- $(pkg-config --cflags sagband); echo $#", "1"},
};

static void pkg_config(void **state)
{
    do_staged(state, "house_make install");
    for (size_t i = 0; i < sizeof flags_rows / sizeof *flags_rows; i++) {
        const struct flags_row *row = &flags_rows[i];
        char command[400];
        struct ran ran;
        snprintf(command, sizeof command, "export PKG_CONFIG_PATH=\"$P/lib/pkgconfig\"; %s", row->command);
        run_staged(state, command, &ran);
        if (!strstr(ran.out, row->wanted))
            fail_msg("%s: %s\n got    %s wanted %s", row->name, row->command, ran.out, row->wanted);
        free_ran(&ran);
    }
}

TEST_LIST(install, IN_FOLDER(files_and_rights), IN_FOLDER(headers), IN_FOLDER(pages), IN_FOLDER(links_of_the_pages),
          IN_FOLDER(folders_are_open), IN_FOLDER(nothing_beside), IN_FOLDER(uninstall), IN_FOLDER(runs_from_there),
          IN_FOLDER(pkg_config))

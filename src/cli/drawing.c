#include "cli/drawing.h"

#include <errno.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* `text` with its last `cut` bytes replaced. */
static char *with_end(const char *text, size_t cut, const char *end)
{
    size_t length = strlen(text) - cut, room = length + strlen(end) + 1;
    char *made = malloc(room);
    if (made)
        snprintf(made, room, "%.*s%s", (int)length, text, end);
    return made;
}

static const size_t script_end = sizeof ".gp" - 1;

char *picture_path(const char *script, const char *kind)
{
    char end[16];
    snprintf(end, sizeof end, ".%s", kind);
    return with_end(script, script_end, end);
}

/* gnuplot is started by name and without a shell, in the script's own folder: no file name can become a command. */
static int start_gnuplot(const char *script, const char *beside, pid_t *child)
{
    char setting[64];
    const char *name = strrchr(script, '/');
    char *folder = name ? with_end(script, strlen(name) - (name == script), "") : NULL;
    posix_spawn_file_actions_t actions;
    snprintf(setting, sizeof setting, "beside = '%s'", beside);
    char *arguments[] = {"gnuplot", "-e", setting, (char *)(name ? name + 1 : script), NULL};
    int failed = name && !folder ? ENOMEM : posix_spawn_file_actions_init(&actions);
    if (!failed) {
        failed = folder ? posix_spawn_file_actions_addchdir_np(&actions, folder) : 0;
        if (!failed)
            failed = posix_spawnp(child, "gnuplot", &actions, NULL, arguments, environ);
        posix_spawn_file_actions_destroy(&actions);
    }
    free(folder);
    return failed;
}

/* What was drawn under a name of its own goes where it belongs. */
static enum drawn put_in_place(const char *script, const char *kind, const char *beside, bool whole)
{
    char end[96];
    snprintf(end, sizeof end, "%s.%s", beside, kind);
    char *made = with_end(script, script_end, end), *target = picture_path(script, kind);
    bool placed = made && target && whole && rename(made, target) == 0;
    if (made && !placed)
        unlink(made);
    free(made);
    free(target);
    return placed ? DRAWN : DRAWN_NOT;
}

enum drawn draw_script(const char *script, const char *kind, int *why)
{
    char beside[32];
    pid_t child;
    int state = 0;
    snprintf(beside, sizeof beside, ".%ld", (long)getpid());
    *why = start_gnuplot(script, beside, &child);
    if (*why)
        return NO_GNUPLOT;
    while (waitpid(child, &state, 0) < 0 && errno == EINTR)
        ;
    return put_in_place(script, kind, beside, WIFEXITED(state) && WEXITSTATUS(state) == 0);
}

enum sag_status draw_or_complain(const char *script, const char *kind, struct sag_diags *diags)
{
    struct sag_shown shown;
    int why = 0;
    switch (draw_script(script, kind, &why)) {
    case DRAWN:
        return SAG_OK;
    case NO_GNUPLOT:
        sag_complain(diags, SAG_ERROR, &(struct sag_place){0},
                     "gnuplot cannot be started (%s); the scripts are there, draw them with gnuplot FILE",
                     strerror(why));
        return SAG_IO;
    default:
        sag_complain(diags, SAG_ERROR, &(struct sag_place){0}, "gnuplot could not draw %s",
                     sag_shown(&shown, script, strlen(script)));
        return SAG_IO;
    }
}

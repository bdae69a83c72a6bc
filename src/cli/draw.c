/* Pictures are drawn by gnuplot. */
#include <errno.h>
#include <spawn.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "cli/session.h"

/* gnuplot is started by name and without a shell: no file name can become a command. */
enum sag_status draw_script(const char *script, struct sag_diags *diags)
{
    char *arguments[] = {"gnuplot", (char *)script, NULL};
    pid_t child;
    int state = 0;
    struct sag_shown shown;
    sag_shown(&shown, script, strlen(script));
    int failed = posix_spawnp(&child, "gnuplot", NULL, NULL, arguments, environ);
    if (failed) {
        sag_complain(diags, SAG_ERROR, &(struct sag_place){0},
                     "gnuplot cannot be started (%s); the scripts are there, draw them with gnuplot FILE",
                     strerror(failed));
        return SAG_IO;
    }
    while (waitpid(child, &state, 0) < 0 && errno == EINTR)
        ;
    if (WIFEXITED(state) && WEXITSTATUS(state) == 0)
        return SAG_OK;
    sag_complain(diags, SAG_ERROR, &(struct sag_place){0}, "gnuplot could not draw %s", shown.text);
    return SAG_IO;
}

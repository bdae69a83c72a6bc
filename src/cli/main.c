#include <gsl/gsl_errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

#include "cli/options.h"

/* What was printed has to arrive: a full disk is not a success. */
static int finish_stdout(void)
{
    if (fflush(stdout) == 0 && !ferror(stdout))
        return EXIT_ALL_WELL;
    perror("sagband: standard output");
    return EXIT_NOT_WRITTEN;
}

static int run_program(int argc, char **sorted, char *const *typed)
{
    struct options options;
    if (!parse_options(argc, sorted, &options))
        return EXIT_REFUSED;
    options.argument_count = argc;
    options.arguments = typed;
    if (options.version) {
        puts("sagband " SAG_VERSION);
        return finish_stdout();
    }
    if (options.help) {
        print_help(stdout, options.command);
        return finish_stdout();
    }
    return (int)options.command->run(&options);
}

int main(int argc, char **argv)
{
    gsl_set_error_handler_off(); /* a numerical corner is a status here, not the end of the process */
    /* a closed pipe or a file at its size limit is a write that failed: exit 3, not a death that leaves files */
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
    if (argc == 2 && strcmp(argv[1], "--completions") == 0) {
        print_completions(stdout);
        return finish_stdout();
    }
    char **sorted = calloc((size_t)argc + 1, sizeof *sorted); /* options are sorted to the front of it */
    if (!sorted)
        return EXIT_NOT_WRITTEN;
    memcpy(sorted, argv, (size_t)argc * sizeof *sorted);
    int status = run_program(argc, sorted, argv);
    free(sorted);
    return status;
}

#include <gsl/gsl_errno.h>
#include <signal.h>
#include <string.h>

#include "cli/options.h"

int main(int argc, char **argv)
{
    struct options options;
    gsl_set_error_handler_off(); /* a numerical corner is a status here, not the end of the process */
    signal(SIGPIPE, SIG_IGN);    /* a closed pipe is a write that failed: exit 3, not a silent death */
    if (argc == 2 && strcmp(argv[1], "--completions") == 0) {
        print_completions(stdout);
        return EXIT_ALL_WELL;
    }
    if (!parse_options(argc, argv, &options))
        return EXIT_REFUSED;
    if (options.version) {
        puts("sagband " SAG_VERSION);
        return EXIT_ALL_WELL;
    }
    if (options.help) {
        print_help(stdout, options.command);
        return EXIT_ALL_WELL;
    }
    return (int)options.command->run(&options);
}

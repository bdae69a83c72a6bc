#include "cli/session.h"
enum exit_status cmd_plot(const struct options *options)
{
    (void)options;
    return EXIT_REFUSED;
}

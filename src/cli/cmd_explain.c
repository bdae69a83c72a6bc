#include "cli/session.h"
enum exit_status cmd_explain(const struct options *options)
{
    (void)options;
    return EXIT_REFUSED;
}

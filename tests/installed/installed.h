/* The program as it stands after `make install`, in the folder of a test. */
#ifndef TESTS_INSTALLED_H
#define TESTS_INSTALLED_H

#include "golden/golden.h"
#include "support.h"

/* Where things are staged and where they believe to be: the prefix has a blank in it, a folder of the user's may. */
#define PREFIX "/opt/motor tools"

/* Run a line for the shell that has to end well. $D is the test's folder, $P what is installed under the prefix, $B the
   build folder, `house_make` the make of this tree told of all three. End with free_ran(). */
void run_staged(void **state, const char *command, struct ran *ran);
/* The same where only the end matters. */
void do_staged(void **state, const char *command);

#endif

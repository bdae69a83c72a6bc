/* Running the program as a user would, from the top of the tree. */
#ifndef TESTS_GOLDEN_H
#define TESTS_GOLDEN_H

/* What a shell command printed and how it ended. */
struct ran {
    char *out, *err;
    int status;
};

/* Run one line for the shell with `sagband` on the path. */
void run_command(const char *command, struct ran *ran);
void free_ran(struct ran *ran);

/* A file's bytes as text; "" when it is not there. The caller frees. */
char *slurp(const char *path);

#endif

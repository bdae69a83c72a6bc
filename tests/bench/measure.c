/* measure RUNS OUTPUT COMMAND...: runs the command that often with standard output to OUTPUT and errors to nowhere,
   and prints best and median seconds, the peak memory in KiB and the processor seconds of the last run. A status above
   1 (of sagband: refused, not written) ends it. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum {
    MOST_RUNS = 1000
};

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void become(const char *output, char **command)
{
    int out = open(output, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    int nowhere = open("/dev/null", O_WRONLY);
    if (out >= 0 && nowhere >= 0 && dup2(out, STDOUT_FILENO) >= 0 && dup2(nowhere, STDERR_FILENO) >= 0)
        execvp(command[0], command);
    _exit(127);
}

static double seconds_of(struct timeval t)
{
    return (double)t.tv_sec + 1e-6 * (double)t.tv_usec;
}

static double run_once(const char *output, char **command, long *peak, double *busy)
{
    int status = 0;
    struct rusage used;
    double start = now();
    pid_t child = fork();
    if (child == 0)
        become(output, command);
    if (child < 0 || wait4(child, &status, 0, &used) != child || !WIFEXITED(status) || WEXITSTATUS(status) > 1) {
        fprintf(stderr, "measure: %s failed (%d)\n", command[0], WIFEXITED(status) ? WEXITSTATUS(status) : -1);
        exit(1);
    }
    *peak = used.ru_maxrss > *peak ? used.ru_maxrss : *peak;
    *busy = seconds_of(used.ru_utime) + seconds_of(used.ru_stime);
    return now() - start;
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return a < b ? -1 : a > b;
}

int main(int argc, char **argv)
{
    static double seconds[MOST_RUNS];
    long peak = 0;
    double busy = 0;
    int runs = argc > 3 ? atoi(argv[1]) : 0;
    if (runs < 1 || runs > MOST_RUNS) {
        fputs("usage: measure RUNS OUTPUT COMMAND...\n", stderr);
        return 2;
    }
    for (int i = 0; i < runs; i++)
        seconds[i] = run_once(argv[2], argv + 3, &peak, &busy);
    qsort(seconds, (size_t)runs, sizeof *seconds, by_size);
    printf("%.6f %.6f %ld %.3f\n", seconds[0], seconds[runs / 2], peak, busy);
    return 0;
}

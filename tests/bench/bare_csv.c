/* libcsv and nothing else: what reading alone costs. bare_csv FILE prints rows and cells. */
#include <csv.h>
#include <stdio.h>

enum {
    BLOCK = 64 * 1024
};

struct counts {
    unsigned long long rows, cells;
};

static void on_cell(void *cell, size_t length, void *context)
{
    (void)cell;
    (void)length;
    ((struct counts *)context)->cells++;
}

static void on_row(int terminator, void *context)
{
    (void)terminator;
    ((struct counts *)context)->rows++;
}

int main(int argc, char **argv)
{
    static char block[BLOCK];
    struct counts counts = {0};
    struct csv_parser parser;
    FILE *file = argc == 2 ? fopen(argv[1], "rb") : NULL;
    if (!file || csv_init(&parser, CSV_STRICT) != 0) {
        fputs("usage: bare_csv FILE\n", stderr);
        return 2;
    }
    for (size_t n; (n = fread(block, 1, sizeof block, file)) > 0;)
        if (csv_parse(&parser, block, n, on_cell, on_row, &counts) != n)
            break;
    csv_fini(&parser, on_cell, on_row, &counts);
    csv_free(&parser);
    fclose(file);
    printf("%llu rows, %llu cells\n", counts.rows, counts.cells);
    return 0;
}

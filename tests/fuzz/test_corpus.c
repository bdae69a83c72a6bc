/* The stored corpus: through the whole chain as it is, and through the CSV reader in pieces of every size, with the
   reader's own block ending at many places of it. */
#include "support.h"

#include <dirent.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "fuzz/chain.h"

#define CORPUS "tests/fuzz/corpus"

struct bytes {
    char *text;
    size_t size;
};

static struct bytes read_file(const char *path)
{
    struct bytes b = {0};
    FILE *file = fopen(path, "rb");
    FILE *copy = open_memstream(&b.text, &b.size);
    if (!file || !copy)
        fail_msg("%s: cannot be opened; run from the top folder", path);
    for (int c; (c = fgetc(file)) != EOF;)
        fputc(c, copy);
    fclose(file);
    fclose(copy);
    return b;
}

typedef void corpus_fn(const char *path, const struct bytes *bytes);

/* `take` for every file of a corpus folder, in the order of names. */
static void each_file(const char *folder, corpus_fn *take)
{
    struct dirent **entries;
    char path[PATH_MAX];
    int taken = 0, count = scandir(folder, &entries, NULL, alphasort);
    for (int i = 0; i < count; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, entries[i]->d_name);
        if (entries[i]->d_name[0] != '.') {
            struct bytes bytes = read_file(path);
            take(path, &bytes);
            free(bytes.text);
            taken++;
        }
        free(entries[i]);
    }
    if (count >= 0)
        free(entries);
    assert_true(taken >= 10);
}

/* --- through the chain ------------------------------------------------------------------------------------------ */

static void chain_motors(const char *path, const struct bytes *b)
{
    (void)path;
    fuzz_motors((const uint8_t *)b->text, b->size);
}

static void chain_supply(const char *path, const struct bytes *b)
{
    (void)path;
    fuzz_supply((const uint8_t *)b->text, b->size);
}

static void chain_plate(const char *path, const struct bytes *b)
{
    (void)path;
    fuzz_plate((const uint8_t *)b->text, b->size);
}

static void chain_curve(const char *path, const struct bytes *b)
{
    (void)path;
    fuzz_curve((const uint8_t *)b->text, b->size);
}

static void chain_whole(const char *path, const struct bytes *b)
{
    (void)path;
    fuzz_chain((const uint8_t *)b->text, b->size);
}

static void chain_log(const char *path, const struct bytes *b)
{
    (void)path;
    fuzz_log((const uint8_t *)b->text, b->size);
}

static void test_stored_inputs_break_no_promise(void **state)
{
    (void)state;
    each_file(CORPUS "/motors", chain_motors);
    each_file(CORPUS "/supply", chain_supply);
    each_file(CORPUS "/plate", chain_plate);
    each_file(CORPUS "/curve", chain_curve);
    each_file(CORPUS "/chain", chain_whole);
    each_file(CORPUS "/log", chain_log);
}

/* --- the reader in pieces --------------------------------------------------------------------------------------- */

/* All that the reader says, as text. */
struct dump {
    FILE *stream;
    struct bytes said;
    enum sag_status status;
    size_t skip; /* rows that are not wanted */
};

static enum sag_status dump_row(void *context, const struct sag_row *row)
{
    struct dump *d = context;
    if (d->skip) {
        d->skip--;
        return SAG_OK;
    }
    fprintf(d->stream, "row %u %c", row->line, row->mark);
    for (size_t i = 0; i < row->count; i++)
        fprintf(d->stream, " [%s]%zu", row->cells[i].text, row->cells[i].length);
    fputc('\n', d->stream);
    return SAG_OK;
}

static enum sag_status dump_comment(void *context, const char *text, size_t length)
{
    struct dump *d = context;
    fprintf(d->stream, "comment %.*s\n", (int)length, text);
    return SAG_OK;
}

static void dump_input(struct dump *d, const struct sag_input *input)
{
    struct sag_diags diags = {0};
    d->stream = open_memstream(&d->said.text, &d->said.size);
    assert_non_null(d->stream);
    d->status = sag_csv_read(input, &(struct sag_csv_events){dump_row, dump_comment, d}, &diags);
    for (size_t i = 0; i < diags.count; i++)
        fprintf(d->stream, "%u:%u %s\n", diags.items[i].at.line, diags.items[i].at.column, diags.items[i].text);
    fclose(d->stream);
    sag_diags_free(&diags);
}

struct dribble {
    const struct bytes *bytes;
    size_t taken, chunk;
};

static ssize_t dribble_read(void *cookie, char *out, size_t size)
{
    struct dribble *d = cookie;
    size_t n = d->bytes->size - d->taken;
    n = n < d->chunk ? n : d->chunk;
    n = n < size ? n : size;
    memcpy(out, d->bytes->text + d->taken, n);
    d->taken += n;
    return (ssize_t)n;
}

static void check_same(const char *path, size_t piece, const struct dump *got, const struct dump *wanted)
{
    if (got->status != wanted->status || got->said.size != wanted->said.size ||
        memcmp(got->said.text, wanted->said.text, wanted->said.size) != 0)
        fail_msg("%s: pieces of %zu\n got    %s\n wanted %s", path, piece, got->said.text, wanted->said.text);
}

static void read_in_pieces(const char *path, const struct bytes *b)
{
    struct dump whole = {0};
    dump_input(&whole, &(struct sag_input){.name = "x", .bytes = b->text, .size = b->size});
    for (size_t chunk = 1; chunk <= 64; chunk++) {
        struct dump pieces = {0};
        struct dribble d = {b, 0, chunk};
        FILE *file = fopencookie(&d, "rb", (cookie_io_functions_t){.read = dribble_read});
        assert_non_null(file);
        dump_input(&pieces, &(struct sag_input){.name = "x", .file = file});
        fclose(file);
        check_same(path, chunk, &pieces, &whole);
        free(pieces.said.text);
    }
    free(whole.said.text);
}

static void test_pieces_of_a_stream_read_like_the_whole(void **state)
{
    (void)state;
    each_file(CORPUS "/motors", read_in_pieces);
    each_file(CORPUS "/supply", read_in_pieces);
    each_file(CORPUS "/log", read_in_pieces);
}

/* --- the reader's block ends inside the file ---------------------------------------------------------------------- */

enum {
    BLOCK = 64 * 1024, /* as in base/csv.c */
    HEAD_ROWS = 2,
    PLACES = 24 /* of each file where the block ends */
};

/* A header, a row of `filler` bytes, then the file. */
static struct bytes behind_filler(const struct bytes *b, size_t filler)
{
    static const char header[] = "a,b\n";
    size_t head = sizeof header - 1;
    struct bytes out = {.size = head + filler + 1 + b->size};
    out.text = malloc(out.size);
    assert_non_null(out.text);
    memcpy(out.text, header, head);
    memset(out.text + head, 'x', filler);
    out.text[head + filler] = '\n';
    memcpy(out.text + head + filler + 1, b->text, b->size);
    return out;
}

static void dump_behind(struct dump *d, const struct bytes *b, size_t filler)
{
    struct bytes padded = behind_filler(b, filler);
    d->skip = HEAD_ROWS;
    dump_input(d, &(struct sag_input){.name = "x", .bytes = padded.text, .size = padded.size});
    free(padded.text);
}

static void read_across_a_block(const char *path, const struct bytes *b)
{
    struct dump whole = {0};
    size_t step = b->size / PLACES + 1;
    dump_behind(&whole, b, 1);
    for (size_t at = 0; at < b->size && whole.status == SAG_OK; at += step) {
        struct dump cut = {0};
        dump_behind(&cut, b, BLOCK - sizeof "a,b\n" - at);
        check_same(path, at, &cut, &whole);
        free(cut.said.text);
    }
    free(whole.said.text);
}

static void test_a_block_may_end_anywhere(void **state)
{
    (void)state;
    each_file(CORPUS "/motors", read_across_a_block);
    each_file(CORPUS "/supply", read_across_a_block);
}

TEST_LIST(corpus, cmocka_unit_test(test_stored_inputs_break_no_promise),
          cmocka_unit_test(test_pieces_of_a_stream_read_like_the_whole),
          cmocka_unit_test(test_a_block_may_end_anywhere))

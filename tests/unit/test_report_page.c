/* Pieces of the report's page: what user text becomes, which pictures are let in, words for checks. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support.h"
#include "write/escape.h"
#include "write/html.h"
#include "write/report_parts.h"

struct text {
    char *made;
    size_t size;
    FILE *stream;
};

static FILE *open_text(struct text *t)
{
    t->stream = open_memstream(&t->made, &t->size);
    assert_non_null(t->stream);
    return t->stream;
}

static const char *close_text(struct text *t)
{
    fclose(t->stream);
    return t->made;
}

static void text_of_a_page(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text, *wanted;
    } rows[] = {
        {"plain", "LP-1", "LP-1"},
        {"tag", "<script>a</script>", "&lt;script&gt;a&lt;/script&gt;"},
        {"attribute", "\" onload='x", "&quot; onload=&#39;x"},
        {"entity", "&lt;", "&amp;lt;"},
        {"turned", "a\u202eb", "a?b"},
        {"control", "a\x1b[1mb\n", "a?[1mb?"},
        {"letters", "\u00e9\u4e2d", "\u00e9\u4e2d"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct text t;
        put_html(open_text(&t), rows[i].text);
        check_text(rows[i].name, close_text(&t), rows[i].wanted);
        free(t.made);
    }
}

static void long_text_is_cut(void **state)
{
    (void)state;
    char *text = malloc(200001);
    struct text t;
    assert_non_null(text);
    memset(text, 'x', 200000);
    text[200000] = '\0';
    put_html(open_text(&t), text);
    close_text(&t);
    assert_int_equal(t.size, 401);
    assert_int_equal(t.made[400], '~');
    free(t.made);
    free(text);
}

static void sentences(void **state)
{
    (void)state;
    struct text t;
    put_sentence(open_text(&t), "<b>%s</b>: 5 % of %s", (const char *const[]){"<a>", "b & c"});
    check_text("sentence", close_text(&t), "<b>&lt;a&gt;</b>: 5 % of b &amp; c");
    free(t.made);
}

#define SVG(inside) "<?xml version='1.0'?>\n<svg width='9' viewBox=\"0 0 9 8\">" inside "</svg>\n"

static void pictures(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text, *wanted; /* NULL: refused */
    } rows[] = {
        {"plain", SVG("<g><text>LP-1</text></g>"), "<g><text>LP-1</text></g></svg>"},
        {"names are set apart", SVG("<circle id='a'/><use xlink:href='#a'/><g fill='url(#a)'/>"),
         "<circle id='p-a'/><use xlink:href='#p-a'/><g fill='url(#p-a)'/></svg>"},
        {"titles go", SVG("<title>plot_1</title><desc>by</desc><g/>"), "<g/></svg>"},
        {"words in a text stay", SVG("<text>id='a' href='#b' &lt;script&gt;</text>"),
         "<text>id='a' href='#b' &lt;script&gt;</text></svg>"},
        {"script", SVG("<script>x</script>"), NULL},
        {"image", SVG("<image href='#a'/>"), NULL},
        {"event", SVG("<g onload='x'/>"), NULL},
        {"event in capitals", SVG("<g ONLOAD='x'/>"), NULL},
        {"event behind a slash", SVG("<g/onload='x'/>"), NULL},
        {"link", SVG("<use xlink:href='x.svg#a'/>"), NULL},
        {"fetched fill", SVG("<g fill='url(x)'/>"), NULL},
        {"foreign", SVG("<foreignObject/>"), NULL},
        {"no box", "<svg width='9'></svg>", NULL},
        {"no end", "<svg viewBox=\"0 0 9 8\"><g>", NULL},
        {"no picture", "<p>text</p>", NULL},
        {"nothing", "", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char path[] = "/tmp/sagband-picture-XXXXXX";
        int file = mkstemp(path);
        struct text t;
        assert_true(file >= 0);
        assert_int_equal(write(file, rows[i].text, strlen(rows[i].text)), strlen(rows[i].text));
        close(file);
        enum sag_status status = put_picture(open_text(&t), path, "p", "what it \"shows\"");
        close_text(&t);
        unlink(path);
        if (status != (rows[i].wanted ? SAG_OK : SAG_IO))
            fail_msg("%s: came back with %d", rows[i].name, (int)status);
        if (rows[i].wanted && !strstr(t.made, rows[i].wanted))
            fail_msg("%s: %s", rows[i].name, t.made);
        if (rows[i].wanted && !strstr(t.made, "aria-label=\"what it &quot;shows&quot;\""))
            fail_msg("%s: no words: %s", rows[i].name, t.made);
        if (!rows[i].wanted && t.size != 0)
            fail_msg("%s: something was written: %s", rows[i].name, t.made);
        free(t.made);
    }
}

/* Words that belong to no check would be said of nothing. */
static void words_are_of_checks(void **state)
{
    (void)state;
    const char *name;
    for (size_t i = 0; (name = plainly_worded(i)); i++) {
        size_t at = 0;
        while (sag_check_at(at) && strcmp(sag_check_at(at)->name, name) != 0)
            at++;
        if (!sag_check_at(at))
            fail_msg("there is no check %s", name);
        assert_string_not_equal(plain_words(sag_check_at(at)), sag_check_at(at)->meaning);
    }
}

TEST_LIST(report_page, cmocka_unit_test(text_of_a_page), cmocka_unit_test(long_text_is_cut),
          cmocka_unit_test(sentences), cmocka_unit_test(pictures), cmocka_unit_test(words_are_of_checks))

/* Findings for people: motors share an entry only when limit and source are the same. */
#include "judge_help.h"

struct plant_text {
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_finding *findings;
    size_t count;
};

static void judge_rows(const char *rows, const struct sag_typed_volts *typed, struct plant_text *p)
{
    struct sag_diags diags = {0};
    struct sag_fit_store store = {0};
    struct sag_input input = text_input("m.csv", rows);
    *p = (struct plant_text){0};
    sag_read_motors(&input, shared_tables(), NULL, &p->list, &diags);
    check_diags("motors", &diags, "");
    assert_int_equal(sag_find_boards(shared_tables(), NULL, typed, &p->list, &p->boards), SAG_OK);
    struct sag_plant plant = {.tables = shared_tables(),
                              .list = &p->list,
                              .boards = p->boards,
                              .cases = {true, false, false, false},
                              .store = &store};
    p->findings = calloc(p->list.count, sizeof *p->findings * SAG_MOST_FINDINGS);
    struct sag_result *result = calloc(1, sizeof *result);
    for (size_t i = 0; i < p->list.count; i++) {
        assert_int_equal(sag_judge_motors(&plant, &i, 1, result), SAG_OK);
        memcpy(p->findings + p->count, result->findings, result->finding_count * sizeof *p->findings);
        p->count += result->finding_count;
    }
    free(result);
    sag_fit_store_free(&store);
}

static void plant_text_free(struct plant_text *p)
{
    free(p->findings);
    free(p->boards);
    sag_motor_list_free(&p->list);
}

/* As printed, with line breaks and indents taken for single spaces. */
static char *printed(const struct plant_text *p)
{
    char *text = NULL, *to;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(sag_print_findings(stream, false, &p->list, p->findings, p->count), SAG_OK);
    fclose(stream);
    to = text;
    for (const char *from = text; *from; from++)
        if ((*from != ' ' && *from != '\n') || (to > text && to[-1] != ' '))
            *to++ = (char)(*from == '\n' ? ' ' : *from);
    *to = '\0';
    return text;
}

static size_t times(const char *text, const char *part)
{
    size_t n = 0;
    for (const char *at = text; (at = strstr(at, part)); at += strlen(part))
        n++;
    return n;
}

#define HEAD  "tag,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,design,service_factor\n"
#define ROW   ",460,50,1775,94.5,0.86,"
#define TAIL  ",1.15\n"
#define LIMIT "terminal volts against the upper edge of the band - 113.0 % of plate volts, limit 110 "

static void sources_stand_apart(void **state)
{
    (void)state;
    struct plant_text p;
    judge_rows(HEAD "B-1" ROW "B" TAIL "N-1" ROW "N" TAIL "B-2" ROW "B" TAIL "N-2" ROW "N" TAIL,
               &(struct sag_typed_volts){{520}, 1, 0}, &p);
    char *text = printed(&p);
    static const char *const entries[] = {
        "fail band_high, nominal: B-1 B-2 - " LIMIT "[NEMA MG 1 12.44.1]",
        "fail band_high, nominal: N-1 N-2 - " LIMIT "[IEC 60034-1 7.3 zone B (from memory)]",
    };
    for (size_t i = 0; i < COUNT(entries); i++)
        if (!strstr(text, entries[i]))
            fail_msg("\"%s\" is not in\n%s", entries[i], text);
    assert_int_equal(times(text, "band_high, nominal:"), 2);
    free(text);
    plant_text_free(&p);
}

static void limits_stand_apart(void **state)
{
    (void)state;
    struct plant_text p;
    judge_rows(HEAD "A" ROW "B,1.15\nB" ROW "B,1.0\n", &(struct sag_typed_volts){{368}, 1, 0}, &p);
    char *text = printed(&p);
    assert_int_equal(times(text, "running_amps, nominal: A - "), 1);
    assert_int_equal(times(text, "running_amps, nominal: B - "), 1);
    assert_int_equal(times(text, "band_low, nominal: A B - "), 1);
    free(text);
    plant_text_free(&p);
}

/* Flux at the plate's own frequency says what the band says already: a row for machines, nothing for people. */
static void flux_is_not_told_twice(void **state)
{
    (void)state;
    struct plant_text p;
    judge_rows(HEAD "B-1" ROW "B" TAIL, &(struct sag_typed_volts){{520}, 1, 0}, &p);
    size_t flux = 0;
    for (size_t i = 0; i < p.count; i++)
        flux += strcmp(p.findings[i].check->name, "flux") == 0;
    char *text = printed(&p);
    assert_int_equal(flux, 1);
    assert_int_equal(times(text, "flux, nominal:"), 0);
    free(text);
    plant_text_free(&p);
}

static void nothing_to_report(void **state)
{
    (void)state;
    struct plant_text p;
    judge_rows(HEAD "B-1" ROW "B" TAIL, &(struct sag_typed_volts){{460}, 1, 0}, &p);
    char *text = printed(&p);
    check_text("all well", text, "nothing to report: every check is ok ");
    free(text);
    plant_text_free(&p);
}

TEST_LIST(findings, cmocka_unit_test(sources_stand_apart), cmocka_unit_test(limits_stand_apart),
          cmocka_unit_test(flux_is_not_told_twice), cmocka_unit_test(nothing_to_report))

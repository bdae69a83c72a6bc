/* The report's page: what it says of itself, and the parts that it is put together of. */
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/number.h"
#include "cli/reporting.h"

/* SOURCE_DATE_EPOCH, where it is set, makes two runs give the same bytes. */
static void put_date(char *out, size_t room)
{
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    double seconds = 0;
    time_t now = time(NULL);
    struct tm utc;
    if (epoch && sag_number_read(epoch, strlen(epoch), '.', &seconds) == SAG_NUMBER_OK && seconds >= 0 &&
        seconds < 1e11)
        now = (time_t)seconds;
    if (gmtime_r(&now, &utc))
        snprintf(out, room, "%04d-%02d-%02d %02d:%02d UTC", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday,
                 utc.tm_hour, utc.tm_min);
}

static const char *role_of(const struct session *s, const char *path)
{
    const struct options *o = s->options;
    const char *log = session_measured_path(s);
    return o->supply && strcmp(path, o->supply) == 0               ? "supply path"
           : o->device_curve && strcmp(path, o->device_curve) == 0 ? "curve of the device"
           : o->relay_curve && strcmp(path, o->relay_curve) == 0   ? "curve of the relay"
           : log && strcmp(path, log) == 0                         ? "log of measured volts"
                                                                   : "motor list";
}

static size_t put_inputs(struct session *s, struct sag_report_input *inputs, char sums[][SHA256_DIGEST_STRING_LENGTH])
{
    for (size_t i = 0; i < s->sum_count; i++) {
        struct file_sum *sum = &s->sums[i];
        SHA256End(&sum->sum, sums[i]);
        inputs[i] = (struct sag_report_input){role_of(s, sum->path), sum->name, sums[i], sum->bytes};
    }
    return s->sum_count;
}

/* The words that the program was called with. */
static void print_call(const struct session *s, FILE *f)
{
    fputs("sagband", f);
    for (int i = 1; i < s->options->argument_count; i++)
        fprintf(f, " %s", s->options->arguments[i]);
}

/* What is printed, as a text; the caller frees it. NULL: out of memory. */
static char *text_of(const struct session *s, void (*print)(const struct session *, FILE *))
{
    char *text = NULL;
    size_t size = 0;
    FILE *f = open_memstream(&text, &size);
    if (!f)
        return NULL;
    print(s, f);
    if (fclose(f) == 0)
        return text;
    free(text);
    return NULL;
}

enum sag_status report_write_page(struct session *s, struct reporting *r)
{
    struct sag_report_input inputs[SESSION_FILES];
    char sums[SESSION_FILES][SHA256_DIGEST_STRING_LENGTH], date[40] = "";
    char *basis = text_of(s, print_volts_basis), *call = text_of(s, print_call);
    put_date(date, sizeof date);
    const struct sag_report_job job = {
        .plant = &s->plant,
        .supply = s->has_supply ? &s->supply : NULL,
        .reports = s->reports,
        .board_results = s->board_results,
        .grid = &s->grid,
        .schedule = &r->plan.table,
        .circuit_shown = r->plan.shown,
        .clauses = schedule_clauses(s, &r->plan),
        .notes = &r->notes,
        .taps = &r->taps,
        .advice = &r->advice,
        .inputs = inputs,
        .input_count = put_inputs(s, inputs, sums),
        .basis = basis,
        .version = SAG_VERSION,
        .date = date,
        .title = s->options->title,
        .insulation_c = s->options->insulation_c ? s->options->insulation_c : 75,
        .device = s->options->device ? s->options->device : SAG_DEVICE_INVERSE_TIME_BREAKER,
        .call = call,
        .no_picture = s->options->no_pictures ? "they were not asked for. The scripts are beside this page."
                      : *r->no_picture        ? r->no_picture
                                              : NULL,
        .starts_run = r->starts_run,
        .starts_all = s->order_count,
        .feeders = r->sections,
    };
    enum sag_status status = basis && call ? sag_write_report(sag_out_stream(r->page), &job) : SAG_NO_MEMORY;
    free(basis);
    free(call);
    if (status == SAG_IO && !ferror(sag_out_stream(r->page)))
        return report_tell_lost(s);
    return status;
}

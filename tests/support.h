/* What all tests share. A test file defines one list with TEST_LIST and is named once in tests/main.c. */
#ifndef TESTS_SUPPORT_H
#define TESTS_SUPPORT_H

/* cmocka wants these four before it */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "sagband/sagband.h"

/* A test with a folder of its own: *state is its path, and it is gone afterwards with all that is in it. */
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)
int make_folder(void **state);
int remove_folder(void **state);

#define TEST_LIST(name, ...)                                                                                           \
    const struct CMUnitTest *name##_tests(size_t *count);                                                              \
    const struct CMUnitTest *name##_tests(size_t *count)                                                               \
    {                                                                                                                  \
        static const struct CMUnitTest list[] = {__VA_ARGS__};                                                         \
        *count = sizeof list / sizeof *list;                                                                           \
        return list;                                                                                                   \
    }

/* The built-in tables, opened once and shared: tests only read them. */
const struct sag_tables *shared_tables(void);

/* Fails with the row's name, what was got and what was wanted. `tolerance` is absolute. */
void check_near(const char *name, double got, double wanted, double tolerance);
/* `percent` of the wanted value. */
void check_percent(const char *name, double got, double wanted, double percent);
void check_text(const char *name, const char *got, const char *wanted);

/* A motor typed as for --plate, completed for a supply of `volts_ll` with a neutral. Free with sag_motor_list_free().
 */
void complete_connected(const char *plate, const struct sag_connection *connection, struct sag_motor_list *list,
                        struct sag_motor *motor);
void complete_typed(const char *plate, double volts_ll, struct sag_motor_list *list, struct sag_motor *motor);

#endif

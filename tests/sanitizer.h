/* Is this build under the address sanitizer, which is slow and needs memory of its own? */
#ifndef TESTS_SANITIZER_H
#define TESTS_SANITIZER_H

#if defined(__has_feature)
#define HAS_SANITIZER __has_feature(address_sanitizer)
#elif defined(__SANITIZE_ADDRESS__)
#define HAS_SANITIZER 1
#else
#define HAS_SANITIZER 0
#endif

#endif

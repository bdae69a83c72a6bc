#include "base/text.h"

#include <string.h>

size_t sag_utf8_step(const char *bytes, size_t left)
{
    const unsigned char *text = (const unsigned char *)bytes;
    size_t n = text[0] < 0x80 ? 1 : text[0] >= 0xC2 && text[0] < 0xE0 ? 2 : (text[0] & 0xF0) == 0xE0 ? 3 : 4;
    if (n > left || (text[0] >= 0x80 && text[0] < 0xC2) || text[0] > 0xF4)
        return 0;
    for (size_t i = 1; i < n; i++)
        if ((text[i] & 0xC0) != 0x80)
            return 0;
    bool overlong = (text[0] == 0xE0 && text[1] < 0xA0) || (text[0] == 0xF0 && text[1] < 0x90);
    bool surrogate = text[0] == 0xED && text[1] >= 0xA0;
    bool beyond = text[0] == 0xF4 && text[1] >= 0x90;
    return overlong || surrogate || beyond ? 0 : n;
}

size_t sag_character(const char *text)
{
    if (*text == '\0')
        return 0;
    size_t left = strnlen(text, 4);
    size_t n = sag_utf8_step(text, left);
    return n ? n : 1;
}

bool sag_is_unseen(const char *text, size_t length)
{
    static const struct {
        unsigned from, to;
    } unseen[] = {{0x00AD, 0x00AD}, {0x034F, 0x034F}, {0x061C, 0x061C},   {0x115F, 0x1160},
                  {0x17B4, 0x17B5}, {0x180B, 0x180F}, {0x200B, 0x200F},   {0x2028, 0x202E},
                  {0x2060, 0x206F}, {0x3164, 0x3164}, {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},
                  {0xFFA0, 0xFFA0}, {0xFFF0, 0xFFFB}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF}};
    const unsigned char *c = (const unsigned char *)text;
    unsigned code = 0;
    if (length == 1)
        return c[0] < 0x20 || c[0] >= 0x7F;
    if (length == 2)
        code = (c[0] & 0x1FU) << 6 | (c[1] & 0x3FU);
    else if (length == 3)
        code = (c[0] & 0x0FU) << 12 | (c[1] & 0x3FU) << 6 | (c[2] & 0x3FU);
    else if (length == 4)
        code = (c[0] & 0x07U) << 18 | (c[1] & 0x3FU) << 12 | (c[2] & 0x3FU) << 6 | (c[3] & 0x3FU);
    if (length == 2 && code < 0xA0)
        return true;
    for (size_t i = 0; i < sizeof unseen / sizeof *unseen; i++)
        if (code >= unseen[i].from && code <= unseen[i].to)
            return true;
    return false;
}

// That UTF-8 is told from bytes that are none, code point by code point.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/text/utf8.hpp>

#include "support/catch.hpp"

namespace utf8_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// By the bit patterns of RFC 3629, section 3.
std::string encoded(char32_t c) {
    const auto byte = [](char32_t bits) { return static_cast<char>(static_cast<unsigned char>(bits)); };
    if (c < 0x80) return {byte(c)};
    if (c < 0x800) return {byte(0xC0 | c >> 6), byte(0x80 | (c & 0x3F))};
    if (c < 0x10000) return {byte(0xE0 | c >> 12), byte(0x80 | (c >> 6 & 0x3F)), byte(0x80 | (c & 0x3F))};
    return {byte(0xF0 | c >> 18), byte(0x80 | (c >> 12 & 0x3F)), byte(0x80 | (c >> 6 & 0x3F)), byte(0x80 | (c & 0x3F))};
}

} // namespace

TEST_CASE("every code point but the surrogates is read from its bytes") {
    for (char32_t c = 0; c <= 0x10FFFF; ++c) {
        const std::string bytes = encoded(c);
        const detail::code_point found = detail::code_point_at(bytes, 0);
        if (c >= 0xD800 && c < 0xE000) {
            REQUIRE_FALSE(found.valid);
            continue;
        }
        if (!found.valid || found.value != c || found.bytes != bytes.size()) FAIL("U+" << static_cast<unsigned>(c));
        // Cut short it is no UTF-8.
        for (std::size_t n = 1; n < bytes.size(); ++n)
            if (detail::code_point_at(bytes.substr(0, n), 0).valid) FAIL("U+" << static_cast<unsigned>(c));
    }
}

TEST_CASE("a replacement character in the text is told from one that stands in for bytes") {
    const detail::code_point written = detail::code_point_at("\xEF\xBF\xBD", 0);
    CHECK(written.value == detail::replacement_character);
    CHECK(written.bytes == 3);
    CHECK(written.valid);
    for (const char* bytes : {"\xFF", "\x80", "\xC0\xAF", "\xE2\x82", "\xED\xA0\x80", "\xF4\x90\x80\x80"}) {
        const detail::code_point stands_in = detail::code_point_at(bytes, 0);
        CHECK(stands_in.value == detail::replacement_character);
        CHECK(stands_in.bytes == 1);
        CHECK_FALSE(stands_in.valid);
    }
}

TEST_CASE("bytes that are valid and go on are what encodes them") {
    std::mt19937 random(36);
    for (int i = 0; i < 200000; ++i) {
        std::string bytes;
        for (int k = 0; k < 4; ++k) bytes += static_cast<char>(static_cast<unsigned char>(random() >> (random() % 3)));
        const detail::code_point found = detail::code_point_at(bytes, 0);
        if (found.valid) REQUIRE(encoded(found.value) == bytes.substr(0, found.bytes));
    }
}

TEST_CASE("a start of a text ends with a whole character") {
    const std::string text = "a½肉\xF0\x9F\xA5\xA9z"; // 1, 2, 3, 4 and 1 bytes
    const std::size_t whole[] = {0, 1, 1, 3, 3, 3, 6, 6, 6, 6, 10, 11, 11};
    for (std::size_t bytes = 0; bytes < 13; ++bytes) CHECK(detail::whole_characters(text, bytes) == whole[bytes]);
    CHECK(detail::whole_characters("\x80\x80\x80\x80\x80\x80\x80", 5) == 5);
}

TEST_CASE("a plain line is UTF-8 without controls or changes of direction") {
    CHECK(detail::is_plain_line(""));
    CHECK(detail::is_plain_line("Metzgerei Müller, größe ¾ — 肉"));
    CHECK(detail::is_plain_line("\xEF\xBF\xBD")); // U+FFFD, as in a name that was repaired
    CHECK_FALSE(detail::is_plain_line("a\nb"));
    CHECK_FALSE(detail::is_plain_line("tab\t"));
    CHECK_FALSE(detail::is_plain_line("\x7F"));
    CHECK_FALSE(detail::is_plain_line("\xE2\x80\xAE")); // right-to-left override, U+202E
    CHECK_FALSE(detail::is_plain_line("\xC3"));
    CHECK_FALSE(detail::is_plain_line("\xEF\xBF\xBE")); // U+FFFE and U+FFFF, which XML does not have
    CHECK_FALSE(detail::is_plain_line("\xEF\xBF\xBF"));
}

TEST_CASE("bytes that are not UTF-8 are replaced and valid text is kept") {
    CHECK(detail::printable("Größe 和牛 \xF0\x9F\xA5\xA9") == "Größe 和牛 \xF0\x9F\xA5\xA9");
    CHECK(detail::printable("a\xFF") == "a\xEF\xBF\xBD");
    CHECK(detail::printable("\xC0\xAF") == "\xEF\xBF\xBD\xEF\xBF\xBD");                 // overlong
    CHECK(detail::printable("\xE2\x82") == "\xEF\xBF\xBD\xEF\xBF\xBD");                 // cut short
    CHECK(detail::printable("\xED\xA0\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD"); // a surrogate
    CHECK(detail::printable("\xF4\x90\x80\x80").find('\xF4') == std::string::npos);     // beyond U+10FFFF
}

TEST_CASE("control characters and changes of direction become spaces") {
    CHECK(detail::printable("a\nb\tc\x1B[31m") == "a b c [31m");
    CHECK(detail::printable("a\xE2\x80\xAE"
                            "b") == "a b"); // U+202E
    CHECK(detail::printable("a\xC2\x85"
                            "b") == "a b"); // U+0085
    CHECK(detail::printable(std::string("a\0b", 3)) == "a b");
}

TEST_CASE("what is printable is a plain line and stays as it is") {
    std::mt19937 random(41);
    const std::vector<std::string> pieces{
        "a",    " ",      "\xEF\xBF\xBD", "\xFF",         "\xE2", "\x82", "½",    "肉", "\n",
        "\x7F", "\u202E", "\uFEFF",       "\xEF\xBF\xBF", "\xED", "\xA0", "\xF0", "'",  "\u00A0"};
    for (int i = 0; i < 5000; ++i) {
        std::string text;
        for (auto n = random() % 12; n > 0; --n) text += pieces[random() % pieces.size()];
        const std::string once = detail::printable(text);
        REQUIRE(detail::is_plain_line(once));
        REQUIRE(detail::printable(once) == once);
        if (detail::is_plain_line(text)) REQUIRE(once == text);
    }
}

} // namespace utf8_test

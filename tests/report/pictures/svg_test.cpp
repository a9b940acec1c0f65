// Text for pictures: made to fit, and escaped.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/detail/svg.hpp>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace svg_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("fitted text is the longest start that fits with its ellipsis") {
    std::mt19937 random(42);
    const std::vector<std::string> pieces{"m", "i", "A", "e", " ", ",", "½", "肉", "e\u0301", "×", " \u0301", "W"};
    for (int i = 0; i < 4000; ++i) {
        std::string text;
        for (auto n = random() % 16; n > 0; --n) text += pieces[random() % pieces.size()];
        const double ems = 0.013 + 0.1 * static_cast<double>(random() % 120); // no sum of letters, to the last bit
        CAPTURE(text, ems);
        std::string expected = text;
        for (std::size_t cut = text.size(); detail::ems_of(expected) > ems && cut-- > 0;) {
            const bool inside = (static_cast<unsigned char>(text[cut]) & 0xC0U) == 0x80U;
            if (inside || text.compare(cut, 2, "\u0301") == 0) continue; // of a letter, or in front of its mark
            expected = text.substr(0, cut);
            while (!expected.empty() && (expected.back() == ' ' || expected.back() == ',')) expected.pop_back();
            expected += "…";
        }
        if (detail::columns_of(text) <= 1) expected = text;
        REQUIRE(detail::fitted(text, ems) == expected);
    }
}

TEST_CASE("a text of a million characters is fitted in a single pass") {
    const std::string text(1'000'000, 'W'); // 1 em each by `letter_ems`
    CHECK(detail::fitted(text, 20.0) == std::string(19, 'W') + "…");
    CHECK(detail::fitted(text, 999'999.0) == std::string(999'998, 'W') + "…");
    CHECK(detail::fitted(text, 1'000'000.0) == text);
    CHECK(detail::fitted(std::string(1'000'000, ' ') + "W", 20.0) == "…");
}

TEST_CASE("numbers of pictures are what printf rounds them to, without zeros at their end") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> any(-1.0, 1.0);
    for (int i = 0; i < 4000; ++i) {
        const int decimals = static_cast<int>(random() % 7);
        const double size = std::pow(10.0, static_cast<double>(random() % 18) - 9.0);
        const double number = any(random) * size;
        std::array<char, 64> room{};
        std::snprintf(room.data(), room.size(), "%.*f", decimals, number); // C11, 7.21.6.1
        std::string expected = room.data();
        if (decimals > 0) expected.erase(expected.find_last_not_of('0') + 1);
        if (expected.back() == '.') expected.pop_back();
        if (expected == "-0") expected = "0";
        CAPTURE(number, decimals);
        CHECK(detail::svg_number(number, decimals) == expected);
    }
    CHECK(detail::svg_number(0.0) == "0");
    CHECK(detail::svg_number(-0.05, 1) == "0"); // llrint: halves to even
    CHECK(detail::svg_number(899'999'999.125, 3) == "899999999.125");
}

TEST_CASE("what XML would read as markup is escaped") {
    CHECK(detail::escape_xml("<a href=\"x\">R&D's</a>") == "&lt;a href=&quot;x&quot;&gt;R&amp;D&#39;s&lt;/a&gt;");
    CHECK(detail::escape_xml("Größe\n\xFF") == "Größe \xEF\xBF\xBD");
}

} // namespace svg_test

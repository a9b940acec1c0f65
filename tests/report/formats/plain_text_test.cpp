// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/plain_text.hpp>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace plain_text_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("text is measured in columns and not in bytes") {
    CHECK(detail::columns_of("") == 0);
    CHECK(detail::columns_of("fillet") == 6);
    CHECK(detail::columns_of("Söhne × 2") == 9);
    CHECK(detail::columns_of("½ °C") == 4);
    CHECK(detail::columns_of("和牛") == 4);             // East Asian wide: Unicode Standard Annex 11
    CHECK(detail::columns_of("e\xCC\x81") == 1);        // a combining accent takes no room
    CHECK(detail::columns_of("\xF0\x9F\xA5\xA9") == 2); // U+1F969
}

TEST_CASE("wrapping keeps every word and no line is too wide") {
    const std::string text = "the quick Größe of an incomprehensibilities fillet, 2 × 8 1/2 oz";
    for (std::size_t width = 2; width < 40; ++width) {
        std::string joined;
        for (const std::string& line : detail::wrapped(text, width)) {
            CHECK(detail::columns_of(line) <= width);
            CHECK(!line.empty());
            for (const char c : line) joined += c == ' ' ? "" : std::string(1, c);
        }
        std::string whole;
        for (const char c : text) whole += c == ' ' ? "" : std::string(1, c);
        CHECK(joined == whole);
    }
    CHECK(detail::wrapped("", 10) == std::vector<std::string>{""});
    CHECK(detail::wrapped("one two", 7) == std::vector<std::string>{"one two"});
    CHECK(detail::wrapped("one two", 6) == std::vector<std::string>{"one", "two"});
    CHECK(detail::wrapped("1\xC2\xA0"
                          "1/2 in",
                          6) == std::vector<std::string>{"1\xC2\xA0"
                                                         "1/2",
                                                         "in"});
}

TEST_CASE("a text of a million characters is wrapped in a single pass") {
    const std::size_t size = 1'000'000;
    const std::vector<std::string> broken = detail::wrapped(std::string(size, 'W'), 80);
    CHECK(broken.size() == size / 80);
    CHECK(std::all_of(broken.begin(), broken.end(), [](const std::string& line) { return line.size() == 80; }));
    std::string words;
    while (words.size() < size) words += "a ";
    words.pop_back();
    CHECK(detail::wrapped(words, size) == std::vector<std::string>{words});
}

TEST_CASE("shortened text ends in an ellipsis and fits") {
    CHECK(detail::shortened("fillet", 6) == "fillet");
    CHECK(detail::shortened("fillets", 6) == "fille…");
    CHECK(detail::shortened("Größe XL", 6) == "Größe…");
    CHECK(detail::shortened("fillet", 1) == "…");
    CHECK(detail::shortened("和牛和牛", 5) == "和牛…");
    CHECK(detail::shortened("和牛和牛", 4) == "和…");
    CHECK(detail::shortened("和牛和牛", 3) == "和…");
    CHECK(detail::shortened("和牛和牛", 2) == "…");
}

} // namespace plain_text_test

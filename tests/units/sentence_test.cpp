// Sentences with quantities in them, and how these are rounded.
// SPDX-License-Identifier: BSL-1.0
#include <string>
#include <type_traits>

#include <tranche/units/literals.hpp>
#include <tranche/units/sentence.hpp>

#include "support/catch.hpp"

namespace sentence_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a sentence keeps its words and quantities in order") {
    sentence words("a cut ");
    CHECK(sentence().empty());
    CHECK_FALSE(words.empty());
    words += 31_mm;
    words += sentence(" thick at ") + 1.5_cm + ", or " + 300_g;
    CHECK(words.text() == "a cut 31 mm thick at 15 mm, or 300 g");
    const std::string units = words.written([](const auto& quantity) {
        return std::is_same_v<decltype(quantity.value), length> ? std::string("<length>") : std::string("<mass>");
    });
    CHECK(units == "a cut <length> thick at <length>, or <mass>");
}

TEST_CASE("a sentence may be added to itself") {
    sentence words = sentence("a cut of ") + 31_mm + " and " + 300_g + ", ";
    for (int times = 2; times <= 64; times *= 2) { // with room to spare and without
        const std::string before = words.text();
        words += words;
        CHECK(words.text() == before + before);
    }
    const std::string before = words.text();
    words = words + words;
    CHECK(words.text() == before + before);
}

TEST_CASE("what is to be allowed is rounded so that it is enough") {
    CHECK((sentence(detail::rounded_up(300.01_g)) + ", " + detail::rounded_down(300.09_g)).text() == "300.1 g, 300 g");
    CHECK((sentence(detail::rounded_up(3.001_mm)) + ", " + detail::rounded_down(3.009_mm)).text() == "3.01 mm, 3 mm");
    CHECK((sentence(300.06_g) + ", " + 3.006_mm).text() == "300.1 g, 3.01 mm");
    // A whole step stays what it is, however a double holds it.
    for (int i = 1; i < 2000; ++i) {
        const mass m = static_cast<double>(i) * 0.1_g;
        CHECK(sentence(detail::rounded_up(m)).text() == sentence(detail::rounded_down(m)).text());
    }
}

} // namespace sentence_test

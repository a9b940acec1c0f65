// That a figure says what the amount says that it was made of.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <limits>
#include <sstream>
#include <string>

#include <tranche/units/money_figure.hpp>

namespace money_figure_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a figure has the text of its amount, in every currency and to either end of 64 bits") {
    const auto check = []<currency C>(C) {
        for (const std::int64_t minor :
             {std::int64_t{0}, std::int64_t{1}, std::int64_t{-5}, std::int64_t{12361}, std::int64_t{-100},
              std::numeric_limits<std::int64_t>::min(), std::numeric_limits<std::int64_t>::max()}) {
            const money_figure figure = figure_of(amount<C>{minor});
            CHECK(figure.minor == minor);
            CHECK(to_text(figure) == to_text(amount<C>{minor}));
            std::ostringstream out;
            out << figure;
            CHECK(out.str() == to_text(figure));
        }
    };
    check(usd{});
    check(jpy{});
    check(bhd{});
}

TEST_CASE("a figure is written with the digits of its currency") {
    CHECK(to_text({1234, iso_currency_named("KWD")}) == "1.234 KWD");
    CHECK(to_text({-1234, iso_currency_named("CLF")}) == "-0.1234 CLF");
    CHECK(to_text({1234, iso_currency_named("KRW")}) == "1234 KRW");
    CHECK(to_text({1234, {"ABC", 1}}) == "123.4 ABC");
}

TEST_CASE("a figure without a currency is not written") { CHECK_THROWS_AS(to_text(money_figure{}), invalid_input); }

} // namespace money_figure_test

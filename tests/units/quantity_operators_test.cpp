// That quantities and what is made of them can be written to a stream, counted with whole numbers, and hashed.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <ostream>
#include <sstream>
#include <string>
#include <unordered_set>

#include <boost/units/io.hpp> // its operators and ours are in one namespace, and ours are taken

#include <tranche/units.hpp>

/// Generic code that knows nothing of the library: only argument-dependent lookup finds an operator from here.
namespace a_stranger {

template <class T>
std::string written(const T& value) {
    std::ostringstream out;
    out << value;
    return out.str();
}

template <class T>
concept streamable = requires(std::ostream& out, const T& value) {
    out << value;
};

} // namespace a_stranger

namespace quantity_operators_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;
using a_stranger::written;

static_assert(a_stranger::streamable<length> && a_stranger::streamable<mass> && a_stranger::streamable<money<usd>> &&
              a_stranger::streamable<amount<usd>> && a_stranger::streamable<temperature> &&
              a_stranger::streamable<micrograms> && a_stranger::streamable<quantity_range<mass>>);

TEST_CASE("a quantity is written in one metric unit") {
    CHECK(written(25_mm) == "25 mm");
    CHECK(written(41.9_cm) == "419 mm");
    CHECK(written(1.25_in) == "31.75 mm");
    CHECK(written(12_in) == "304.8 mm"); // one unit in the last place below it as a double
    CHECK(written(5.2_kg) == "5.2 kg");
    CHECK(written(340_g) == "340 g");
    CHECK(written(1_kg) == "1 kg");
    CHECK(written(999.5_g) == "999.5 g");
    CHECK(written(1_lb) == "453.59237 g");
    CHECK(written(-2_kg) == "-2 kg");
    CHECK(written(mass{}) == "0 g");
    CHECK(written(90_cm2) == "90 cm2");
    CHECK(written(12_cm3) == "12 cm3");
    CHECK(written(1060_kg_per_m3) == "1060 kg/m3");
    CHECK(written(12.5_kg / 1_m) == "12.5 kg/m");
    CHECK(written(3_h + 20_min) == "200 min");
    CHECK(written(90_s) == "1.5 min");
    CHECK(written(4_degC) == "4 degC");
    CHECK(written(micrograms{340'000'000}) == "340 g");
    CHECK(written(micrograms{1'000'000'001}) == "1.000000001 kg");
}

TEST_CASE("a range of quantities is written with both ends, or as the one value it holds") {
    CHECK(written(quantity_range<length>(1_in, 2_in)) == "25.4 mm to 50.8 mm");
    CHECK(written(quantity_range<mass>(340_g)) == "340 g");
    CHECK(written(quantity_range<mass>(340_g, unlimited<mass>())) == "340 g to inf kg");
}

TEST_CASE("money is written to its minor unit at least, with its currency") {
    CHECK(written(7.9_usd) == "7.90 USD");
    CHECK(written(-7.905_usd) == "-7.905 USD");
    CHECK(written(1200_jpy) == "1200 JPY");
    CHECK(written(7.9_bhd) == "7.900 BHD");
    CHECK(written(17.9_usd / 1_kg) == "17.90 USD/kg");
    CHECK(written(18_eur / 1_h) == "18.00 EUR/h");
    CHECK(written(amount<usd>{-5}) == "-0.05 USD");
    CHECK(written(amount<usd>{std::numeric_limits<std::int64_t>::max()}) == "92233720368547758.07 USD");
}

TEST_CASE("what is no finite or no usual number is written too") {
    CHECK(written(unlimited<length>()) == "inf mm");
    CHECK(written(length::from_value(std::numeric_limits<double>::quiet_NaN())) == "nan mm");
    CHECK(written(1e300 * metre) == "1e+303 mm");
    CHECK(written(1e-30 * kilogram) == "1e-27 g");
    CHECK(written(999'999'999'999.999 * metre) == "999999999999999 mm");
}

TEST_CASE("another library's manipulators and quantities are written as before") {
    const auto speed = 2_m / 1_s;
    CHECK(written(speed) == "2 m s^-1"); // as Boost.Units has it
}

TEST_CASE("a failed check shows quantities and not question marks") {
    CHECK(Catch::Detail::stringify(25_mm) == "25 mm");
    CHECK(Catch::Detail::stringify(7.9_usd / 1_kg) == "7.90 USD/kg");
    CHECK(Catch::Detail::stringify(micrograms{340'000'000}) == "340 g");
}

template <class A, class B>
concept multiplies = requires(A a, B b) {
    a* b;
};

TEMPLATE_TEST_CASE("a whole number of quantities is a quantity of the same type", "", int, unsigned, long, std::size_t,
                   std::int64_t, short) {
    constexpr auto three = static_cast<TestType>(3);
    static_assert(std::same_as<decltype(three * 25_mm), length> && std::same_as<decltype(25_mm * three), length> &&
                  std::same_as<decltype(25_mm / three), length>);
    static_assert(std::same_as<decltype(three * 7.9_usd), money<usd>> &&
                  std::same_as<decltype(three * (7.9_usd / 1_lb)), unit_price<usd>>);
    static_assert(three * 25_mm == 3.0 * 25_mm && 25_mm * three == 25_mm * 3.0 && 25_mm / three == 25_mm / 3.0);
    CHECK(three * 340_g == 1020_g);
}
static_assert(!multiplies<bool, length> && !multiplies<length, bool>);

TEST_CASE("equal values hash alike, and a set keeps one of them") {
    CHECK(std::unordered_set<micrograms>{{1}, {2}, {1}}.size() == 2);
    CHECK(std::unordered_set<amount<usd>>{{1}, {2}, {1}}.size() == 2);
    CHECK(std::unordered_set<temperature>{0_degC, temperature{-0.0}, 4_degC}.size() == 2);
}

TEST_CASE("money is rounded without being told its currency again") {
    STATIC_REQUIRE(std::same_as<decltype(rounded(7.905_usd, rounding::half_even)), amount<usd>>);
    CHECK(rounded(7.905_usd, rounding::half_even) == amount<usd>{790});
    CHECK(rounded(7.905_usd, rounding::half_up) == amount<usd>{791});
    CHECK(rounded(0.5_jpy, rounding::half_up) == amount<jpy>{1});
}

} // namespace quantity_operators_test

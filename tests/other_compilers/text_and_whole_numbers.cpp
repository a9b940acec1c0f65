// Holds what units/detail/config.hpp may have a way round against what it stands for: numbers in text, sums, wide products.
// SPDX-License-Identifier: BSL-1.0
#include <bit>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <limits>
#include <random>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <tranche/text/from_text.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/detail/overflow.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/literals.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>

namespace {

using namespace tranche;
using namespace tranche::literals;

int checks = 0, wrong = 0;

void check(bool holds, const std::string& what) {
    ++checks;
    if (holds) return;
    ++wrong;
    if (wrong <= 20) std::fprintf(stderr, "wrong: %s\n", what.c_str());
}

bool same(double a, double b) {
    return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b) || (std::isnan(a) && std::isnan(b));
}

void reads(const std::string& text, std::chars_format format, double expected, std::size_t length,
           std::errc error = {}) {
    double value = 42.0; // stays where nothing is read
    const auto [end, found] = detail::number_from_chars(text.data(), text.data() + text.size(), value, format);
    check(same(value, expected) && end == text.data() + length && found == error, '"' + text + "\" as a number");
}

/// By hand, after ISO C++20, [charconv.from.chars].
void number_texts() {
    constexpr auto general = std::chars_format::general, fixed = std::chars_format::fixed;
    constexpr double inf = std::numeric_limits<double>::infinity();
    for (const auto format : {general, fixed}) {
        reads("12.5 kg", format, 12.5, 4);
        reads("-0", format, -0.0, 2);
        reads(".5", format, 0.5, 2);
        reads("5.", format, 5.0, 2);
        reads("1,5", format, 1.0, 1);
        reads("0x10", format, 0.0, 1);
        reads("-INFx", format, -inf, 4);
        reads("infinity", format, inf, 8);
        reads("infinit", format, inf, 3);
        for (const char* none : {"", "-", ".", "-.", "+1", " 1", "e5", "--1", "in", "kg"})
            reads(none, format, 42.0, 0, std::errc::invalid_argument);
    }
    reads("1.5e3", general, 1500.0, 5);
    reads("1.5e3", fixed, 1.5, 3);
    reads("1e", general, 1.0, 1);
    reads("1e+", general, 1.0, 1);
    reads("2E-1g", general, 0.2, 4);
    reads("1e999", general, 42.0, 5, std::errc::result_out_of_range);
    reads("-1e-999", general, 42.0, 7, std::errc::result_out_of_range);
    reads("0e-999", general, 0.0, 6);
    reads("1" + std::string(60, '0'), general, 1e60, 61);
    // Half of the last bit above 1, exactly and by a hair more (IEEE 754-2019: halves to even).
    reads("1.00000000000000011102230246251565404236316680908203125", general, 1.0, 55);
    reads("1.00000000000000011102230246251565404236316680908203126", general, std::nextafter(1.0, 2.0), 55);
}

void written_numbers_are_read_again() {
    std::mt19937_64 random(1);
    for (int i = 0; i < 20'000; ++i) {
        const double value = std::bit_cast<double>(random());
        if (!std::isfinite(value)) continue;
        char text[32];
        const auto written = std::snprintf(text, sizeof text, "%.17g", value);
        reads(std::string(text, static_cast<std::size_t>(written)), std::chars_format::general, value,
              static_cast<std::size_t>(written));
    }
}

#if defined(__cpp_lib_to_chars)
/// Where the library has the function, any text is read as it does.
void any_text_is_read_as_the_library_does() {
    std::mt19937_64 random(2);
    constexpr std::string_view letters = "0123456789001.......-eE+-infNAN";
    for (int i = 0; i < 100'000; ++i) {
        std::string text(static_cast<std::size_t>(random() % 9), ' ');
        for (char& c : text) c = letters[static_cast<std::size_t>(random() % letters.size())];
        if (text.find("nan") != std::string::npos || text.find("NAN") != std::string::npos)
            continue; // nan(...) is open
        for (const auto format : {std::chars_format::general, std::chars_format::fixed}) {
            double expected = 42.0;
            const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), expected, format);
            reads(text, format, expected, static_cast<std::size_t>(end - text.data()), error);
        }
    }
}
#else
void any_text_is_read_as_the_library_does() {}
#endif

void sums() {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max(), least = -most - 1;
    const std::vector<std::int64_t> ends{least, least + 1, -1, 0, 1, most - 1, most};
    for (const std::int64_t a : ends)
        for (const std::int64_t b : ends) {
            const detail::wide_integer sum = detail::wide_integer{a} + b, difference = detail::wide_integer{a} - b;
            std::int64_t found = 0;
            const bool over = detail::sum_overflows(a, b, found);
            check(over == (sum > most || sum < least) && (over || sum == found),
                  std::to_string(a) + " + " + std::to_string(b));
            const bool under = detail::difference_overflows(a, b, found);
            check(under == (difference > most || difference < least) && (under || difference == found),
                  std::to_string(a) + " - " + std::to_string(b));
        }
}

void wide_products() {
    using detail::wide_integer;
    const wide_integer big = wide_integer{std::numeric_limits<std::int64_t>::max()} + 1; // 2^63
    wide_integer product = 0;
    check(!detail::product_overflows(big, big, product) && product / big == big && product % big == 0, "2^63 squared");
    check(!detail::product_overflows(big, -big, product) && product / big == -big, "2^63 by its opposite");
    check(detail::product_overflows(big * 4, big, product), "2^65 by 2^63");
    check(!detail::product_overflows(0, big, product) && product == 0, "nothing by 2^63");
    check(detail::divided_up(big, 2) == big / 2 && detail::divided_up(big + 1, 2) == big / 2 + 1, "halves, rounded up");

    // Parts in proportion to 1, 2 and 4 of 7: exact where a double is not.
    const std::vector<std::int64_t> weights{1, 2, 4};
    const auto parts = split<usd>({7'000'000'000'000'000'007}, weights);
    check(parts[0].minor == 1'000'000'000'000'000'001 && parts[1].minor == 2'000'000'000'000'000'002 &&
              parts[2].minor == 4'000'000'000'000'000'004,
          "an amount of 19 digits, split");
}

void quantities() {
    std::mt19937_64 random(3);
    for (int i = 0; i < 2000; ++i) {
        const micrograms weight{static_cast<std::int64_t>(random() % 90'000) * 100'000};
        const std::string text = to_text(to_mass(weight), {mass_division::unit::grams, 10});
        check(to_micrograms(from_text<mass>(text)) == weight, text);
    }
    check(from_text<mass>("12 lb 6 oz") == 12.375_lb, "12 lb 6 oz");
    check(from_text<length>("1 1/4 in") == 1.25_in, "1 1/4 in");
    check(to_text(7.90_usd / 1_lb, price_basis::per_pound) == "7.90 USD/lb", "7.90 USD/lb");
}

} // namespace

int main() {
    number_texts();
    written_numbers_are_read_again();
    any_text_is_read_as_the_library_does();
    sums();
    wide_products();
    quantities();
    std::printf("%d checks, %d wrong\n", checks, wrong);
    return wrong == 0 && checks > 20'000 ? 0 : 1;
}

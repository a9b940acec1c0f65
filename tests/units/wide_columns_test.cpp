// Loops in registers of any width, and roots of columns: the same to the last bit as one number at a time.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_columns.hpp>

namespace wide_columns_test {

using namespace tranche;

namespace {

std::vector<double> some_numbers(std::mt19937_64& random, std::size_t count) {
    std::vector<double> numbers(count);
    for (double& number : numbers) number = 1e9 * 0x1p-53 * static_cast<double>(random() >> 11);
    return numbers;
}
std::vector<std::uint64_t> bits_of(const std::vector<double>& numbers) {
    std::vector<std::uint64_t> bits;
    for (const double number : numbers) bits.push_back(std::bit_cast<std::uint64_t>(number));
    return bits;
}

} // namespace

TEST_CASE("loops in wide registers give the same numbers as loops without") {
    std::mt19937_64 random(1);
    for (std::size_t count = 0; count < 70; ++count) {
        const std::vector<double> a = some_numbers(random, count);
        const std::vector<double> b = some_numbers(random, count);
        std::vector<double> alone(count), wide(count);
        std::vector<std::int64_t> whole_alone(count), whole_wide(count);
        const auto one = [](double x, double y) TRANCHE_INLINED {
            return detail::lesser(x / (y + 1.0) + detail::unfused(x * y), 1e17) - detail::unfused(0.3 * y);
        };
        const auto put = [=](std::size_t n, const double* x, const double* y, double* into, std::int64_t* whole)
                             TRANCHE_INLINED {
                                 for (std::size_t i = 0; i < n; ++i) into[i] = one(x[i], y[i]);
                                 for (std::size_t i = 0; i < n; ++i)
                                     whole[i] = detail::nearest_whole_of(detail::unfused(x[i] * 0.5));
                             };
        detail::in_columns([=, x = a.data(), y = b.data(), into = wide.data(), whole = whole_wide.data()]()
                               TRANCHE_INLINED { put(count, x, y, into, whole); });
        put(count, a.data(), b.data(), alone.data(), whole_alone.data());
        CHECK(bits_of(wide) == bits_of(alone));
        CHECK(whole_wide == whole_alone);
    }
}

TEST_CASE("roots of a column are those of its numbers") {
    std::mt19937_64 random(2);
    for (std::size_t count = 0; count < 40; ++count) {
        std::vector<double> roots = some_numbers(random, count), expected;
        if (count > 2) roots[2] = 0.0;
        for (const double number : roots) expected.push_back(std::sqrt(number));
        detail::take_roots(roots.data(), count);
        CHECK(bits_of(roots) == bits_of(expected));
    }
}

} // namespace wide_columns_test

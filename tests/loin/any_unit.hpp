// Lengths written in any of the units that a tape, a ruler or a slicer has.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <random>

#include <tranche/units/quantity.hpp>

namespace tranche_test {

/// Writes places, each in a unit drawn for it, or all in metres.
class in_any_unit {
public:
    explicit in_any_unit(std::uint64_t seed) : random_(seed) {}

    /// So many sixteenths of a micrometre.
    [[nodiscard]] tranche::length grains(std::int64_t count) {
        struct unit {
            double grains;
            tranche::length one;
        };
        using namespace tranche;
        static const std::array<unit, 6> units{{{1.6e7, metre},
                                                {1.6e5, centimetre},
                                                {1.6e4, millimetre},
                                                {406'400.0, inch},
                                                {4'876'800.0, foot},
                                                {3'175.0, inch / 128.0}}};
        const unit& u = units[random_() % units.size()];
        return static_cast<double>(count) / u.grains * u.one;
    }
    [[nodiscard]] tranche::length micrometres(std::int64_t count) { return grains(16 * count); }
    [[nodiscard]] tranche::length inches_128(std::int64_t count) { return grains(3'175 * count); }

private:
    std::mt19937_64 random_;
};

/// The same numbers for every writer that starts from a seed.
class whole_numbers {
public:
    explicit whole_numbers(std::uint64_t seed) : random_(seed) {}
    [[nodiscard]] std::int64_t operator()(std::int64_t low, std::int64_t high) {
        return low + static_cast<std::int64_t>(random_() % static_cast<std::uint64_t>(high - low + 1));
    }

private:
    std::mt19937_64 random_;
};

} // namespace tranche_test

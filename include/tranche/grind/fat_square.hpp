// The two-source square (Pearson square): how much of a lean and of a fat source make a blend of a given fat content.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/grind/detail/fat_parts.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// Masses of the two sources; they add up to the batch exactly.
struct square_masses {
    micrograms first{}, second{};
};

} // namespace detail

struct fat_square;

/// Throws `invalid_input` for a fat content that is no share, for two sources equally fat (no square can tell them apart)
/// and for a target that lies outside them. Fat contents are told apart to one part in 10^9.
void validate(const fat_square& square);

/// With fat contents A and B of the sources and C of the blend: parts of A = |B - C|, parts of B = |A - C| (FFA meat
/// calculations, read in the source), and so A (parts of A) + B (parts of B) = C (parts of A + parts of B).
/// The sources may stand in either order. Every member throws what `validate` of the square throws. Everything O(1).
struct fat_square {
    fraction first = 0.0, second = 0.0, target = 0.0;

    /// In percentage points, as the square is drawn: 10 % and 25 % for 20 % are 5 and 10 parts. 0 to 100.
    [[nodiscard]] double parts_of_first() const {
        validate(*this);
        return 100.0 * std::abs(second - target);
    }
    /// The same of the second source.
    [[nodiscard]] double parts_of_second() const {
        validate(*this);
        return 100.0 * std::abs(first - target);
    }
    /// Of the blend by mass; the shares add up to 1. A share, 0 to 1.
    [[nodiscard]] fraction share_of_first() const {
        validate(*this);
        return std::abs(second - target) / std::abs(second - first);
    }
    /// The same of the second source.
    [[nodiscard]] fraction share_of_second() const {
        validate(*this);
        return std::abs(first - target) / std::abs(second - first);
    }

    /// For a whole batch: of the fatter source the whole micrograms that fit, of the leaner one the rest, so that the
    /// blend is never fatter than the target. Throws `invalid_input` for a batch that is not above zero. In whole
    /// micrograms that add up to the batch.
    [[nodiscard]] detail::square_masses masses(mass batch) const {
        validate(*this);
        detail::require_positive(batch, "batch");
        const std::int64_t whole = to_micrograms(batch, "batch").count;
        const std::int64_t a = detail::fat_parts(first), b = detail::fat_parts(second);
        const std::int64_t lean = std::min(a, b), fat = std::max(a, b);
        const auto of_fatter =
            static_cast<std::int64_t>(detail::wide_integer{whole} * (detail::fat_parts(target) - lean) / (fat - lean));
        const micrograms fatter{of_fatter}, leaner{whole - of_fatter};
        return a > b ? detail::square_masses{fatter, leaner} : detail::square_masses{leaner, fatter};
    }

    /// What the blend costs by weight, from the price of each source. Throws `invalid_input` for a price that is
    /// negative or not finite. Money by mass, not rounded.
    template <currency C>
    [[nodiscard]] unit_price<C> price(unit_price<C> of_first, unit_price<C> of_second) const {
        detail::require_price<C>(of_first, "price of the first source");
        detail::require_price<C>(of_second, "price of the second source");
        return detail::unfused(share_of_first() * of_first) + detail::unfused(share_of_second() * of_second);
    }

    friend bool operator==(const fat_square&, const fat_square&) = default;
};

inline void validate(const fat_square& square) {
    const auto [one, other, target] = square;
    detail::require_share(one, "fat of the first source");
    detail::require_share(other, "fat of the second source");
    detail::require_share(target, "target fat");
    const std::int64_t a = detail::fat_parts(one), b = detail::fat_parts(other), c = detail::fat_parts(target);
    if (a == b)
        throw invalid_input("fat of the second source", percent_text(other, 2), "another than that of the first");
    if (c < std::min(a, b) || c > std::max(a, b)) {
        const auto [least, most] = std::minmax(one, other);
        const int digits = detail::digits_apart(target, c < std::min(a, b) ? least : most, 2);
        throw invalid_input("target fat", percent_text(target, digits),
                            "between " + percent_text(least, digits) + " and " + percent_text(most, digits));
    }
}

/// The square of two sources and a target, checked: throws what `validate` throws. All three are lipid by mass, 0 to 1,
/// and the target lies between the sources. Source of the square: see `fat_square`. O(1).
[[nodiscard]] inline fat_square square_for(fraction one, fraction other, fraction target) {
    const fat_square square{one, other, target};
    validate(square);
    return square;
}

} // namespace tranche

// The hand that carries a plan out, and where its errors go.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string_view>

#include <tranche/optimise/want/knife_spread.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What the knife goes by.
enum class hand_follows {
    thickness, ///< each slab from where the last one ended: errors add up along the loin
    marks      ///< marks along the loin: each cut errs by itself, so a slab errs at both of its faces
};

/// "thickness after thickness" or "marks"; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(hand_follows what) {
    return what == hand_follows::marks ? "marks" : "thickness after thickness";
}

/// The hand: a cut that is set to a place goes e beyond it, e ~ N(bias, spread²), each by itself. With a spread and a bias of zero
/// every cut goes where it was set.
struct cutting_hand {
    knife_spread knife{};
    hand_follows follows = hand_follows::thickness;

    friend bool operator==(const cutting_hand&, const cutting_hand&) = default;
};

/// A hand that errs by nothing.
inline constexpr cutting_hand steady_hand{.knife = {.spread = length{}}};

/// Throws `invalid_input` for a bias that is not finite, and a spread that is below zero or not finite.
template <class = detail::when_called>
void validate(const cutting_hand& hand) {
    validate(hand.knife);
}

} // namespace tranche

// A session as a value: the readings so far and what each slab was meant to be, to be kept and to go on from.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/session/cutting_estimate.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// One thing that a session was told: the weight of a slab that came off, and what that was to be; or the weight of all that is
/// left on the board, with which only `rest` and `weight` mean anything.
struct session_entry {
    bool rest = false;                 ///< whether all that is left was weighed
    mass weight{};                     ///< of that, or of the slab as it came off; above zero
    std::optional<length> thickness{}; ///< of the slab, if it was measured; above zero
    slab_kind kind = slab_kind::loose; ///< what the slab was to be
    std::size_t option = 0;            ///< index as in `slab`
    bool last = false;                 ///< the slab is all that was left
    length set{};                      ///< the thickness that was aimed at on the knife; above zero
    length aimed{};                    ///< the thickness that was to come of it; above zero

    friend bool operator==(const session_entry&, const session_entry&) = default;
};

/// All that a session knows apart from the loin, the request and the want: `cutting_session::state` gives it, and a session that
/// is made with it gives the same advice, to the last digit, as the one that it is of. A plain value of numbers, so a program
/// writes it to wherever it keeps such things: lengths and masses in metres and kilograms, with 17 digits, are read back exactly.
struct session_state {
    micrograms whole{}; ///< of the loin on the board, by the profile: another loin is refused
    length extent{};    ///< of the loin
    cutting_spreads spreads{};
    std::vector<session_entry> entries{}; ///< in the order in which they came

    friend bool operator==(const session_state&, const session_state&) = default;
};

} // namespace tranche

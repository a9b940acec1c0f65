// The kinds that a loin of a sheet may be of.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>

#include <tranche/loin/kinds/composition.hpp>
#include <tranche/loin/kinds/known_compositions.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>

namespace tranche::detail {

/// A kind of loin: how large such loins are, and how much lipid their tissues hold.
struct sheet_kind {
    const loin_proportions* proportions = nullptr;
    const composition *lean = nullptr, *fat = nullptr;
};
inline constexpr std::array sheet_kinds{sheet_kind{&beef_strip_loin, &beef_strip_lean, &beef_separable_fat},
                                        sheet_kind{&boneless_pork_loin, &pork_top_loin_lean, &pork_separable_fat},
                                        sheet_kind{&lamb_loin, &lamb_loin_lean, &lamb_separable_fat},
                                        sheet_kind{&tuna_loin, &yellowfin_tuna, &yellowfin_tuna}};

} // namespace tranche::detail

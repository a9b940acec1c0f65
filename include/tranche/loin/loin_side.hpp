// On which side of a loin its flank lies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>

namespace tranche {

/// A side of the loin, as seen by someone who looks along it from the rib end with the fat up.
enum class loin_side { left, right };

/// The side on which a model's flank lies, where tail and gluteus medius are: what its `flank()` says. Outlines run from the
/// chine towards the flank on every loin, and a model without a `flank()` does not know the side; it counts as a loin with
/// its flank on the right. Throws nothing of its own. Right for want of a side: common practice, no source.
template <class Model>
[[nodiscard]] loin_side flank_of(const Model& model) {
    if constexpr (requires {
                      { model.flank() } -> std::same_as<loin_side>;
                  })
        return model.flank();
    else
        return loin_side::right;
}

} // namespace tranche

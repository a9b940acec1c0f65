// The faces that the cuts of a plan lay open.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The face of a loin at one station: its outlines, and its areas and layers.
struct cut_face {
    length at{}; ///< from the rib end
    painted_face painted{};
    face measured{};
    loin_side flank = loin_side::right; ///< seen along the loin from the rib end

    friend bool operator==(const cut_face&, const cut_face&) = default;
};

/// The face of each slab that looks towards the rib end, where the slab starts, in order; then the sirloin face. `loin`
/// is what the plan's profile was tabulated from, `flank` the side on which its flank lies. Throws `invalid_input` if
/// the plan is not as long as the loin, and for layers that are none. O(slabs) calls of the model. Outlines are in
/// metres, areas in square metres.
template <shaped_loin_model Model>
[[nodiscard]] std::vector<cut_face> cut_faces(const Model& loin, const cutting_plan& cuts, loin_side flank) {
    validate_model(loin);
    if (detail::snapped(cuts.extent) != detail::snapped(loin.extent()))
        throw invalid_input("plan.extent", detail::shown(cuts.extent),
                            "the length of the loin, " + detail::shown(loin.extent()));
    std::vector<cut_face> faces;
    const auto open = [&](length at) {
        faces.push_back({at, loin.painted_at(at), loin.face_at(at), flank});
        detail::require_layers(faces.back().measured, at);
    };
    for (const slab& s : cuts.slabs) open(s.start);
    open(cuts.extent);
    return faces;
}

/// The same with the flank where the model has it (`flank_of`). Throws as that does. Outlines are in metres, areas in
/// square metres.
template <shaped_loin_model Model>
[[nodiscard]] std::vector<cut_face> cut_faces(const Model& loin, const cutting_plan& cuts) {
    return cut_faces(loin, cuts, flank_of(loin));
}

} // namespace tranche

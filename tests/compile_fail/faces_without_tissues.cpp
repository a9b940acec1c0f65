// A model whose face is only an area cannot be tabulated: trim and the second muscle need the tissues.
// SPDX-License-Identifier: BSL-1.0
// message: loin_model
// gnu: 'model.face_at.at.' does not satisfy return-type-requirement
// clang: loin' does not satisfy 'loin_model'
#include <tranche/loin/profile.hpp>

using namespace tranche;

struct loin {
    [[nodiscard]] length extent() const { return 0.4 * metre; }
#ifdef TRANCHE_NONSENSE
    [[nodiscard]] area face_at(length) const { return 0.01 * metre * metre; }
#else
    [[nodiscard]] face face_at(length) const {
        face f;
        f.areas[tissue::eye] = 0.01 * metre * metre;
        return f;
    }
#endif
};

int main() { return tabulate(loin{}).cells() > 0 ? 0 : 1; }

// Feeds the reader of traced faces any bytes at all: it gives faces or throws invalid_input, and so does the loin that is
// made of them, whose areas are then finite and not negative.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <sstream>
#include <string>

#include <tranche/loin/outline/read_traced_faces.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace tranche;
    std::istringstream in(std::string(reinterpret_cast<const char*>(data), size));
    try {
        const traced_loin loin(0.5 * metre, read_traced_faces(in, millimetre), millimetre);
        for (const double part : {0.0, 0.4, 1.0}) {
            const face f = loin.face_at(part * loin.extent());
            for (const tissue t : all_tissues) {
                const double area_there = f.areas[t].value();
                if (std::isfinite(area_there) && area_there >= 0.0) continue;
                std::cerr << "an area of " << area_there << '\n';
                std::abort();
            }
            (void)loin.painted_at(part * loin.extent());
        }
    } catch (const invalid_input&) {}
    return 0;
}

// Text is read for quantities that have a written form, and the refusal says where these are listed.
// SPDX-License-Identifier: BSL-1.0
// message: from_text knows no text form for this type
#include <tranche/text/from_text.hpp>

int main() {
#ifdef TRANCHE_NONSENSE
    const auto read = tranche::from_text<tranche::area>("90 cm2");
#else
    const auto read = tranche::from_text<tranche::length>("90 cm");
#endif
    return read.value() > 0.0 ? 0 : 1;
}

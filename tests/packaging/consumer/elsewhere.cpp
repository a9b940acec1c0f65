// The umbrella again, in a second translation unit: what is defined twice does not link.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/tranche.hpp>

// The umbrella again, in a second translation unit.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/tranche.hpp>

const tranche::version_number* version_seen_elsewhere();

const tranche::version_number* version_seen_elsewhere() { return &tranche::version; }

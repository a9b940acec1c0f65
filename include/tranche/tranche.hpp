// Everything in the library, in one include.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/version.hpp>

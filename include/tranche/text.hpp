// Quantities as people write them, in and out; sentences, CSV and UTF-8.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/text/from_text.hpp>
#include <tranche/text/read_csv.hpp>
#include <tranche/text/scale_division.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/text/utf8.hpp>
#include <tranche/text/write_csv.hpp>

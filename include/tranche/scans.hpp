// Loins from triangle meshes: reading, checking, cutting and weighing scans.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/cut_direction.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/mesh_sections.hpp>
#include <tranche/loin/mesh/read_obj.hpp>
#include <tranche/loin/mesh/read_ply.hpp>
#include <tranche/loin/mesh/read_stl.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/loin/models/scanned_loin.hpp>

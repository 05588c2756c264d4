#pragma once

#include <Eigen/Core>

#include "conduction/body.h"

/// Thermal stress of an elastic solid from its temperatures, as if nothing relaxed. Tension is
/// positive, temperatures need no zero point.
namespace thickset::stress {

/// How a body may move while its temperatures differ.
enum class Support {
  free,  ///< zero net force and, for a slab, zero moment: a slab cooled from one face bends
  held,  ///< a slab held flat: zero net force only
};

/// Stress in the surface and the extremes anywhere in the body.
struct ElasticStress {
  double surface_Pa;              ///< in the plane of the surface
  double centre_Pa;               ///< at the centre, of a rod along it; in the middle of a slab
  double largest_tension_Pa;      ///< >= 0
  double largest_compression_Pa;  ///< >= 0, a magnitude; in a rod the axial stress at its centre
};

/// Elastic thermal stress of one temperature profile.
///
/// In:  biaxial_Pa_per_K = E alpha / (1 - nu); T_K, n nodes of the body; symmetric: the slab's node
/// 0
///      is its mid-plane, else the insulated face.
/// Slab: E alpha/(1-nu) (mean - T), less the linear part when free and not symmetric.
/// Rod with free ends: hoop and axial E alpha/(1-nu) (mean - T) at the surface, axial the same form
/// inside. Ball: hoop E alpha/(1-nu) (mean - T) at the surface, 2/3 of it in all directions at the
/// centre. Source: [BW60] 9.6, 9.10-9.13; [TG70] art. 150-152.
ElasticStress elastic_stress(const conduction::Body& body,
                             const Eigen::ArrayXd& T_K,
                             double biaxial_Pa_per_K,
                             Support support,
                             bool symmetric);

/// Largest surface tension when a slab, even at T, is opened into a room of T - difference:
/// elastic, (mean - surface) over difference as a fraction fitted by Manson, within 5 % up to Biot
/// 20 and too high above. Biot number with the half thickness. Source: [MAN54] eq. 15.
double opening_tension_Pa(double biaxial_Pa_per_K, double biot, double difference_K);

}  // namespace thickset::stress

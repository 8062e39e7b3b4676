// Gaps between boxes and capsules by FCL, the Flexible Collision Library.
//
// Each line of standard input is a pair: for either of the two a letter, b for a
// box and c for a capsule along z; three half edge lengths, of a capsule half its
// straight part in the third; its radius; a unit quaternion w x y z; and the place of
// its middle. The first line of standard output is FCL's version; each further one is
// the answer for a pair:
//
//   apart LOW HIGH   the gap as far as FCL bounds it: HIGH is the distance that it
//                    gives, and LOW how far apart the two are along the line through
//                    the points that it names, or along an axis of either, where that
//                    is more: so the gap is between
//   within HIGH      the boxes, or a box and the segment of a capsule, overlap: minus
//                    the translation that FCL parts them by, taken along the normal
//                    it names, and less the radii; the gap is no less
//
// FCL's own answers for rounded shapes that overlap come from a polytope grown
// toward the curved surface and are good to some 1e-3 mm only. So capsules that
// overlap are measured by their segments, and the radii taken off.
#include <fcl/config.h>
#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/capsule.h>
#include <fcl/narrowphase/collision.h>
#include <fcl/narrowphase/distance.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>

using Vec = fcl::Vector3d;

struct Shape {
    char kind;
    Vec half;
    double radius;
    fcl::Transform3d pose;
};

static bool read(Shape& s) {
    double w, x, y, z;
    Vec at;
    if (std::scanf(" %c %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf %lf", &s.kind, &s.half[0], &s.half[1], &s.half[2],
                   &s.radius, &w, &x, &y, &z, &at[0], &at[1], &at[2]) != 12)
        return false;
    s.pose.setIdentity();
    s.pose.linear() = fcl::Quaterniond(w, x, y, z).toRotationMatrix();
    s.pose.translation() = at;
    return true;
}

// object is the shape with its own radius, or with none.
static fcl::CollisionObjectd object(const Shape& s, bool rounded) {
    std::shared_ptr<fcl::CollisionGeometryd> geometry;
    if (s.kind == 'c')
        geometry = std::make_shared<fcl::Capsuled>(rounded ? s.radius : 0, 2 * s.half[2]);
    else
        geometry = std::make_shared<fcl::Boxd>(2 * s.half);
    return fcl::CollisionObjectd(geometry, s.pose);
}

// along is how far the shape reaches in the unit direction n.
static double along(const Shape& s, const Vec& n, bool rounded) {
    Vec own = s.pose.linear().transpose() * n;
    return n.dot(s.pose.translation()) + own.cwiseAbs().dot(s.half) + (rounded ? s.radius : 0);
}

static double between(const Shape& a, const Shape& b, const Vec& n, bool rounded) {
    return -along(a, -n, rounded) - along(b, n, rounded);
}

static const fcl::GJKSolverType solvers[] = {fcl::GST_LIBCCD, fcl::GST_INDEP};

// apart finds the tightest bounds of the gap that FCL's solvers give, and reports
// whether the two are apart at all.
static bool apart(const Shape& a, const Shape& b, bool rounded, double& low, double& high) {
    bool found = false;
    for (auto solver : solvers) {
        fcl::DistanceRequestd ask(true);
        ask.distance_tolerance = 1e-12;
        ask.gjk_solver_type = solver;
        fcl::DistanceResultd said;
        auto p = object(a, rounded), q = object(b, rounded);
        fcl::distance(&p, &q, ask, said);
        Vec n = said.nearest_points[0] - said.nearest_points[1];
        if (!(said.min_distance > 0) || !(n.norm() > 0)) continue;
        double from = between(a, b, n.normalized(), rounded);
        for (int i = 0; i < 3; i++)
            for (Vec axis : {Vec(a.pose.linear().col(i)), Vec(b.pose.linear().col(i))})
                from = std::max({from, between(a, b, axis, rounded), between(a, b, -axis, rounded)});
        if (!found || said.min_distance - from < high - low) low = from, high = said.min_distance;
        found = true;
    }
    return found;
}

// within is minus the least translation along a normal that FCL's solvers name.
static double within(const Shape& a, const Shape& b) {
    double least = -HUGE_VAL;
    for (auto solver : solvers) {
        fcl::CollisionRequestd ask(100, true);
        ask.gjk_solver_type = solver;
        ask.gjk_tolerance = 1e-12;
        fcl::CollisionResultd said;
        auto p = object(a, false), q = object(b, false);
        fcl::collide(&p, &q, ask, said);
        for (size_t i = 0; i < said.numContacts(); i++) {
            Vec n = said.getContact(i).normal.normalized();
            least = std::max({least, between(a, b, n, false), between(a, b, -n, false)});
        }
    }
    return least;
}

int main() {
    std::puts(FCL_VERSION);
    Shape a, b;
    while (read(a) && read(b)) {
        double low, high;
        if (apart(a, b, true, low, high)) {
            std::printf("apart %.17g %.17g\n", low, high);
            continue;
        }
        double radii = a.radius + b.radius;
        if (radii > 0 && apart(a, b, false, low, high))
            std::printf("apart %.17g %.17g\n", low - radii, high - radii);
        else
            std::printf("within %.17g\n", within(a, b) - radii);
    }
}

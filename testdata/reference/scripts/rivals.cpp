// Times what general libraries make of the same chain and the same targets:
//
//	rivals CHAIN
//
// The file has, in meters and radians: how many joints; of each its motion ("slide" or
// "turn"), its axis, the pose of its frame in the one before (three rows of the rotation,
// then the place), its limits; the pose of the tip; how many targets; of each the settings
// that make it.
//
// Written are the time of a forward pass in nanoseconds, then for every solver its mean and
// 95th percentile in microseconds of processor time and how many targets it missed.
//
//	KDL    Orocos KDL 1.5, ChainFkSolverPos_recursive
//	boxLM  damped least squares on KDL's pose and Jacobian; a setting that a step would take
//	       past its limit is held there and the step is solved again, with Eigen's Cholesky.
//	       Levenberg-Marquardt as in J. Nocedal and S. J. Wright, Numerical Optimization,
//	       chapter 10, from memory
//	SLSQP  NLopt's, on the same pose and Jacobian
//
// Every solver starts from random settings, up to eleven times; a solve counts when all
// settings are within their limits and the pose within 0.1 mm and 0.01 degrees.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <fstream>
#include <functional>
#include <kdl/chain.hpp>
#include <kdl/chainfksolverpos_recursive.hpp>
#include <kdl/chainjnttojacsolver.hpp>
#include <nlopt.h>
#include <random>
#include <string>
#include <vector>

using Vector6 = Eigen::Matrix<double, 6, 1>;
using Matrix6 = Eigen::Matrix<double, 6, 6>;

const double nearM = 1e-4, nearRad = 0.01 * M_PI / 180, limitSlack = 1e-9;
const int mostStarts = 11;
// The least time counts, of so many rounds of so many forward passes, of so many solves.
const int rounds = 30, repeats = 6, solves = 3;
const double turnM = 0.3;      // a turn of one radian counts as much as this shift
const double enough = 1e-11;   // squared residual at which a descent ends

double processorSeconds() {
	timespec t;
	clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
	return t.tv_sec + t.tv_nsec * 1e-9;
}

KDL::Vector readVector(std::istream& in) {
	double x, y, z;
	in >> x >> y >> z;
	return {x, y, z};
}

KDL::Frame readFrame(std::istream& in) {
	double r[9];
	for (double& v : r) in >> v;
	return {KDL::Rotation(r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7], r[8]), readVector(in)};
}

struct Mount {
	KDL::Chain chain;
	std::vector<double> low, high;
	unsigned n;
};

Mount readMount(std::istream& in) {
	Mount m;
	in >> m.n;
	for (unsigned i = 0; i < m.n; i++) {
		std::string motion;
		in >> motion;
		KDL::Vector axis = readVector(in);
		KDL::Frame origin = readFrame(in);
		double low, high;
		in >> low >> high;
		auto kind = motion == "turn" ? KDL::Joint::RotAxis : KDL::Joint::TransAxis;
		m.chain.addSegment(KDL::Segment(KDL::Joint(origin.p, origin.M * axis, kind), origin));
		m.low.push_back(low);
		m.high.push_back(high);
	}
	m.chain.addSegment(KDL::Segment(KDL::Joint(KDL::Joint::None), readFrame(in)));
	return m;
}

// Kinematics is the pose and the Jacobian of a chain, and how far it is from a target.
struct Kinematics {
	KDL::ChainFkSolverPos_recursive forward;
	KDL::ChainJntToJacSolver rates;
	KDL::Jacobian jacobian;
	explicit Kinematics(const Mount& m) : forward(m.chain), rates(m.chain), jacobian(m.n) {}

	double residual(const KDL::JntArray& q, const KDL::Frame& target, Vector6& r) {
		KDL::Frame pose;
		forward.JntToCart(q, pose);
		KDL::Twist off = KDL::diff(pose, target);
		for (int k = 0; k < 3; k++) {
			r(k) = off.vel(k);
			r(3 + k) = turnM * off.rot(k);
		}
		return r.squaredNorm();
	}

	void differentiate(const KDL::JntArray& q) {
		rates.JntToJac(q, jacobian);
		jacobian.data.bottomRows(3) *= turnM;
	}
};

// boxLM descends from q, which it changes.
void boxLM(const Mount& m, Kinematics& k, const KDL::Frame& target, KDL::JntArray& q) {
	Vector6 r, next;
	double f = k.residual(q, target, r), damping = 1e-2;
	KDL::JntArray trial(m.n);
	std::vector<double> d(m.n);
	std::vector<bool> held(m.n);
	int slow = 0;
	for (int step = 0; step < 60 && f > enough && slow < 3; step++) {
		k.differentiate(q);
		const auto& J = k.jacobian.data;
		for (int tries = 0;; tries++) {
			for (unsigned j = 0; j < m.n; j++) {
				double slope = J.col(j).dot(r);
				held[j] = (q(j) <= m.low[j] && slope < 0) || (q(j) >= m.high[j] && slope > 0);
				d[j] = 0;
			}
			for (bool again = true; again;) {
				again = false;
				Matrix6 A = Matrix6::Identity() * std::min(damping, damping * f + 1e-9);
				Vector6 b = r;
				for (unsigned j = 0; j < m.n; j++) {
					if (held[j]) b -= J.col(j) * d[j];
					else A += J.col(j) * J.col(j).transpose();
				}
				Vector6 y = Eigen::LLT<Matrix6>(A).solve(b);
				for (unsigned j = 0; j < m.n; j++) {
					if (held[j]) continue;
					d[j] = J.col(j).dot(y);
					double within = std::clamp(q(j) + d[j], m.low[j], m.high[j]) - q(j);
					if (within != d[j]) {
						d[j] = within;
						held[j] = again = true;
					}
				}
			}
			for (unsigned j = 0; j < m.n; j++) trial(j) = std::clamp(q(j) + d[j], m.low[j], m.high[j]);
			double g = k.residual(trial, target, next);
			if (g < f) {
				slow = g > 0.98 * f ? slow + 1 : 0;
				q = trial;
				r = next;
				f = g;
				damping = std::max(0.2 * damping, 1e-6);
				break;
			}
			damping *= 6;
			if (tries > 8) return;
		}
	}
}

// SLSQP minimizes the squared residual between the limits.
struct SLSQP {
	const Mount& m;
	Kinematics& k;
	KDL::Frame target;
	KDL::JntArray q;
	nlopt_opt opt;

	SLSQP(const Mount& mount, Kinematics& kinematics) : m(mount), k(kinematics), q(mount.n) {
		opt = nlopt_create(NLOPT_LD_SLSQP, m.n);
		nlopt_set_lower_bounds(opt, m.low.data());
		nlopt_set_upper_bounds(opt, m.high.data());
		nlopt_set_min_objective(opt, &SLSQP::objective, this);
		nlopt_set_stopval(opt, enough);
		nlopt_set_maxeval(opt, 300);
		nlopt_set_xtol_rel(opt, 1e-10);
	}
	~SLSQP() { nlopt_destroy(opt); }

	static double objective(unsigned n, const double* x, double* slope, void* data) {
		SLSQP& s = *static_cast<SLSQP*>(data);
		for (unsigned j = 0; j < n; j++) s.q(j) = x[j];
		Vector6 r;
		double f = s.k.residual(s.q, s.target, r);
		if (slope) {
			s.k.differentiate(s.q);
			for (unsigned j = 0; j < n; j++) slope[j] = -2 * s.k.jacobian.data.col(j).dot(r);
		}
		return f;
	}

	void run(const KDL::Frame& to, KDL::JntArray& x) {
		target = to;
		double f;
		nlopt_optimize(opt, x.data.data(), &f);
	}
};

int main(int argc, char** argv) {
	if (argc != 2) return 2;
	std::ifstream in(argv[1]);
	Mount m = readMount(in);
	Kinematics k(m);
	int count;
	in >> count;
	std::vector<KDL::JntArray> made(count, KDL::JntArray(m.n));
	std::vector<KDL::Frame> targets(count);
	for (int i = 0; i < count; i++) {
		for (unsigned j = 0; j < m.n; j++) in >> made[i](j);
		k.forward.JntToCart(made[i], targets[i]);
	}
	if (!in) return 2;

	double best = INFINITY, sum = 0;
	for (int round = 0; round < rounds; round++) {
		KDL::Frame pose;
		double began = processorSeconds();
		for (int again = 0; again < repeats; again++)
			for (const auto& q : made) {
				k.forward.JntToCart(q, pose);
				sum += pose.p.x();
			}
		best = std::min(best, (processorSeconds() - began) / (1.0 * repeats * count));
	}
	printf("forward %.1f %g\n", best * 1e9, sum);

	SLSQP slsqp(m, k);
	using Solve = std::function<void(const KDL::Frame&, KDL::JntArray&)>;
	std::pair<const char*, Solve> solvers[] = {
		{"boxLM", [&](const KDL::Frame& t, KDL::JntArray& q) { boxLM(m, k, t, q); }},
		{"SLSQP", [&](const KDL::Frame& t, KDL::JntArray& q) { slsqp.run(t, q); }},
	};
	for (auto& [name, solve] : solvers) {
		std::mt19937_64 random(1);
		std::vector<double> took;
		int missed = 0;
		for (const auto& target : targets) {
			double least = INFINITY;
			bool found = false;
			const std::mt19937_64 begin = random;
			for (int again = 0; again < solves; again++) {
				double seconds = 0;
				found = false;
				random = begin;
				for (int start = 0; start < mostStarts && !found; start++) {
					KDL::JntArray q(m.n);
					for (unsigned j = 0; j < m.n; j++) q(j) = std::uniform_real_distribution<>(m.low[j], m.high[j])(random);
					double began = processorSeconds();
					solve(target, q);
					seconds += processorSeconds() - began;
					KDL::Frame pose;
					k.forward.JntToCart(q, pose);
					KDL::Twist off = KDL::diff(pose, target);
					found = off.vel.Norm() <= nearM && off.rot.Norm() <= nearRad;
					for (unsigned j = 0; j < m.n; j++) found = found && q(j) >= m.low[j] - limitSlack && q(j) <= m.high[j] + limitSlack;
				}
				least = std::min(least, seconds);
			}
			took.push_back(least);
			missed += !found;
		}
		std::sort(took.begin(), took.end());
		double mean = 0;
		for (double s : took) mean += s / took.size();
		printf("%s %.2f %.2f %d\n", name, mean * 1e6, took[int(0.95 * took.size())] * 1e6, missed);
	}
}

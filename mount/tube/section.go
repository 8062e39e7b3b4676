package tube

import (
	"math"

	"sightpost/mount"
)

// Properties are what the mechanics of a tube needs of its cross-section.
type Properties struct {
	AreaMM2    float64 // A
	InertiaMM4 float64 // I, about any diameter
	TorsionMM4 float64 // J = 2 I, exact for a ring
	ModulusMM3 float64 // W = I / outside radius
	KGPerMM    float64 // mass of each mm of tube
	ShearShare float64 // share of the area that carries shear, see PropertiesOf

	outsideMM float64 // radius
	bend      float64 // E I, N mm²
	twist     float64 // G J, N mm²
	stretch   float64 // E A, N
	shear     float64 // share of A times G, N
}

// PropertiesOf returns the properties of a ring of outside diameter D and inside
// diameter d; zeros for a section that is none.
//
//	A = π (D² - d²)/4,  I = π (D⁴ - d⁴)/64,  J = 2 I
//
// ShearShare is Timoshenko's coefficient for a hollow circle, with m = d/D and
// Poisson's ratio ν = E/(2G) - 1 held between 0 and 1/2:
//
//	6 (1+ν) (1+m²)² / ((7+6ν) (1+m²)² + (20+12ν) m²)
//
// Reference: G. R. Cowper, "The shear coefficient in Timoshenko's beam theory",
// J. Appl. Mech. 33, 1966 (from memory).
func PropertiesOf(s mount.Section) Properties {
	outside, inside := s.OutsideMM, s.OutsideMM-2*s.WallMM
	if !(s.WallMM > 0 && s.OutsideMM >= 2*s.WallMM) {
		return Properties{}
	}
	// factors instead of differences of powers, which lose digits in thin walls
	squares := outside*outside + inside*inside
	area := math.Pi * (outside - s.WallMM) * s.WallMM
	inertia := area * squares / 16
	m2 := inside * inside / (outside * outside)
	nu := poisson(s.Material)
	ring := (1 + m2) * (1 + m2)
	share := 6 * (1 + nu) * ring / ((7+6*nu)*ring + (20+12*nu)*m2)
	young, shear := s.Material.YoungMPa, s.Material.ShearMPa
	return Properties{
		AreaMM2: area, InertiaMM4: inertia, TorsionMM4: 2 * inertia, ModulusMM3: 2 * inertia / outside,
		KGPerMM:    area * s.Material.DensityKGM3 * 1e-9, // m³ in a mm³
		ShearShare: share,
		outsideMM:  outside / 2,
		bend:       young * inertia, twist: shear * (2 * inertia), stretch: young * area, shear: shear * area * share,
	}
}

// poisson returns Poisson's ratio, which matters little here: E/(2G) - 1, held between
// 0 and 1/2, because published moduli need not be those of an isotropic body; 0.3, that
// of most metals, for a material that is not known.
func poisson(m mount.Material) float64 {
	if !(m.YoungMPa > 0 && m.ShearMPa > 0) {
		return 0.3
	}
	return min(max(m.YoungMPa/(2*m.ShearMPa)-1, 0), 0.5)
}

package casefile

import "sightpost/mount"

// alloy returns the numbers of a named alloy. Moduli are independent published
// values: they need not fit each other.
func alloy(word string) mount.Material {
	m := mount.Material{Name: word}
	switch word {
	case "aluminum-6061-T6":
		// Data sheets of suppliers: E 68.9 GPa, G 26.0 GPa, 2.70 g/cm³, yield 276 MPa.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 68900, 26000, 2700, 276
	case "aluminum-6082-T6":
		// EN 1999-1-1 and EN 755-2, extruded tube up to 5 mm thick, from memory.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 70000, 27000, 2700, 250
	case "stainless-1.4301":
		// Data sheets of suppliers: E 193 GPa, G 77 GPa, 8.00 g/cm³; yield 205 MPa is
		// their least, 215 MPa their usual value.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 193000, 77000, 8000, 205
	case "steel-S235":
		// EN 1993-1-1, from memory.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 210000, 81000, 7850, 235
	}
	return m
}

func (m *materialForm) build() mount.Material {
	n := m.Form
	if n == nil {
		return alloy(m.Word.Word)
	}
	return mount.Material{
		Name: n.Name.Text, YoungMPa: n.ElasticModulus.mpa(), ShearMPa: n.ShearModulus.mpa(),
		DensityKGM3: n.Density.kgm3(), YieldMPa: n.Yield.mpa(),
	}
}

package casefile

import "sightpost/mount"

// Material is a material that a kit may name, and where its values come from.
type Material struct {
	mount.Material
	Source string
}

// Materials are the materials that a kit may name. Moduli are independent published values:
// they need not fit each other. One that is named without its alloy is the weakest of the
// usual ones; of carbon, which breaks and does not yield, no strength is known.
var Materials = []Material{
	{mount.Material{Name: "aluminum", YoungMPa: 68900, ShearMPa: 25800, DensityKGM3: 2700, YieldMPa: 145}, "alloy 6063-T5, typical values of the Aluminum Association"},
	{mount.Material{Name: "aluminum-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}, "data sheets of suppliers"},
	{mount.Material{Name: "aluminum-6082-T6", YoungMPa: 70000, ShearMPa: 27000, DensityKGM3: 2700, YieldMPa: 250}, "EN 1999-1-1 and EN 755-2, extruded tube up to 5 mm thick, from memory"},
	{mount.Material{Name: "steel", YoungMPa: 210000, ShearMPa: 81000, DensityKGM3: 7850, YieldMPa: 235}, "S235, EN 1993-1-1, from memory"},
	{mount.Material{Name: "steel-S235", YoungMPa: 210000, ShearMPa: 81000, DensityKGM3: 7850, YieldMPa: 235}, "EN 1993-1-1, from memory"},
	{mount.Material{Name: "stainless-1.4301", YoungMPa: 193000, ShearMPa: 77000, DensityKGM3: 8000, YieldMPa: 205}, "data sheets of suppliers, the least yield strength"},
	{mount.Material{Name: "carbon-tube-70GPa", YoungMPa: 70000, ShearMPa: 5000, DensityKGM3: 1600}, "woven standard-modulus carbon in epoxy, from memory"},
	{mount.Material{Name: "carbon-tube-135GPa", YoungMPa: 135000, ShearMPa: 5000, DensityKGM3: 1600}, "standard-modulus carbon in epoxy, all fibers along the tube, from memory"},
}

// materialNames returns the names of the materials.
func materialNames() []string {
	names := make([]string, len(Materials))
	for i, m := range Materials {
		names[i] = m.Name
	}
	return names
}

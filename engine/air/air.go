// Package air gives the density and viscosity of the air that leaks past a door.
//
// Dry air is meant. At 20 C and 50 % relative humidity moist air is 0.44 % lighter, which changes a turbulent
// leak by 0.2 % and a laminar one not at all: far inside every band of this engine, so humidity is left out.
package air

import (
	"fmt"
	"math"
)

// Constants of the standard atmosphere (ISO 2533:1975; U.S. Standard Atmosphere 1976).
const (
	gasConstant      = 287.05287 // specific gas constant of dry air, J/(kg K)
	sutherlandFactor = 1.458e-6  // kg/(m s sqrt(K))
	sutherlandTemp   = 110.4     // K
	zeroCelsius      = 273.15    // K

	seaPressure    = 101325.0  // Pa
	seaTemperature = 288.15    // K
	lapseRate      = 0.0065    // K/m, geopotential
	gravity        = 9.80665   // m/s2
	earthRadius    = 6356766.0 // m, as in ISO 2533
)

// Limits of the arguments, as far as doors stand on this earth. The formulas reach farther.
const (
	MinTemperature = -50.0    // C
	MaxTemperature = 60.0     // C
	MinPressure    = 50000.0  // Pa
	MaxPressure    = 110000.0 // Pa
	MinAltitude    = -500.0   // m
	MaxAltitude    = 5500.0   // m
)

// Air is the state of the air that a leakage is stated for.
type Air struct {
	Density   float64 // rho, kg/m3
	Viscosity float64 // mu, dynamic viscosity, Pa s
}

// Standard is dry air at 20 C and 101325 Pa: rho 1.2041 kg/m3, mu 1.8134e-5 Pa s.
func Standard() Air { return state(20, seaPressure) }

// At gives dry air of a temperature (C) and an absolute pressure (Pa).
//
//	rho = p/(R T)                        ideal gas, R = 287.05287 J/(kg K), T in K
//	mu  = 1.458e-6 T^1.5 / (T + 110.4)   Sutherland's law, Pa s
//
// Source: ISO 2533:1975; U.S. Standard Atmosphere 1976, eq. 42 and 51 (equation numbers from memory, not verified).
// Range: -50..60 C and 50..110 kPa, else an error that states it. Against reference equations of state rho is
// up to 0.1 % and mu up to 0.5 % low.
func At(temperatureC, pressurePa float64) (Air, error) {
	if err := within("air temperature", temperatureC, MinTemperature, MaxTemperature, "C"); err != nil {
		return Air{}, err
	}
	if err := within("air pressure", pressurePa, MinPressure, MaxPressure, "Pa"); err != nil {
		return Air{}, err
	}
	return state(temperatureC, pressurePa), nil
}

func state(temperatureC, pressurePa float64) Air {
	t := temperatureC + zeroCelsius
	return Air{
		Density:   pressurePa / (gasConstant * t),
		Viscosity: sutherlandFactor * t * math.Sqrt(t) / (t + sutherlandTemp),
	}
}

// Pressure gives the pressure (Pa) of the standard atmosphere at a geometric altitude z (m above sea level).
//
//	H = r z/(r + z)                          geopotential altitude, r = 6356766 m
//	p = 101325 (1 - 0.0065 H/288.15)^(g/(R 0.0065))
//
// Source: ISO 2533:1975, troposphere. Range: -500..5500 m, else an error that states it. The real pressure of a
// day lies within about 4 % of it, which is 2 % of a turbulent leak.
func Pressure(altitudeM float64) (float64, error) {
	if err := within("altitude", altitudeM, MinAltitude, MaxAltitude, "m"); err != nil {
		return 0, err
	}
	h := earthRadius * altitudeM / (earthRadius + altitudeM)
	return seaPressure * math.Pow(1-lapseRate*h/seaTemperature, gravity/(gasConstant*lapseRate)), nil
}

func within(what string, value, low, high float64, unit string) error {
	if value >= low && value <= high {
		return nil
	}
	return fmt.Errorf("%s is %g %s; allowed is %g to %g %s", what, value, unit, low, high, unit)
}

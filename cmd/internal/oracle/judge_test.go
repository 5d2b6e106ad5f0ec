package oracle

// judgeAll asks every rulebook: by rule id.
func judgeAll(d door) map[string]verdict {
	out := map[string]verdict{}
	for id, judge := range judges {
		for slug, v := range judge(d) {
			out[id+"/"+slug] = v
		}
		for slug, v := range sealed(d, judge) {
			out[id+"/"+slug] = v
		}
	}
	return out
}

var judges = map[string]func(door) map[string]verdict{
	"us-ada-2010":    ada2010,
	"us-a117-2017":   a1172017,
	"us-ibc-2018":    ibc2018,
	"us-irc-2018":    irc2018,
	"us-fha-1991":    fha1991,
	"us-ca-cbc-2022": cbc2022,
	"uk-adm1-2015":   admVolume1,
	"uk-adm2-2015":   admVolume2,
	"uk-adc-2004":    adc2004,

	"au-as1428-2009": as14282009,
	"au-as1428-2021": as14282021,
	"au-lhds-2022":   lhds2022,
	"au-ncc-2022":    ncc2022,
	"nz-d1-2011":     nzD1,
}

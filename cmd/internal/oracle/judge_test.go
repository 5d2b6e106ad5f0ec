package oracle

// judgeAll asks every rulebook: by rule id.
func judgeAll(d door) map[string]verdict {
	out := map[string]verdict{}
	for _, id := range d.asked() {
		judge := judges[id]
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
	"de-18040-2010":  din18040,
	"ch-sia500-2009": sia500,
	"at-b1600":       oenormB1600,
	"nl-bb-2012":     bouwbesluit2012,
	"pl-wt-2022":     warunkiTechniczne,
	"fr-access-2026": frAccess,
	"es-dbsua-2022":  dbSUA,
	"pt-dl163-2006":  dl163,
	"ca-nbc-2020":    nbc2020,
	"ca-bc-2024":     bc2024,
	"hk-bpr":         hkBPR,
	"no-tek17":       tek17,
	"dk-br18":        br18,
	"fi-access-2017": finland2017,
	"ie-tgdm-2010":   tgdM2010,
	"ae-dubai-2017":  dubai2017,
	"au-as1428-2009": as14282009,
	"au-as1428-2021": as14282021,
	"au-lhds-2022":   lhds2022,
	"au-ncc-2022":    ncc2022,
	"nz-d1-2011":     nzD1,
}

package pages

import (
	"fmt"
	"html/template"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"time"

	"golang.org/x/text/language"
)

// languages are those of the catalogues, English where none is understood.
var (
	languages  = []language.Tag{language.English, language.Spanish}
	matcher    = language.NewMatcher(languages)
	catalogues = map[string]map[string]string{"en": en, "es": es}
)

// page is what a template shows.
type page struct {
	*Pages
	Language string // a key of catalogues
	chosen   bool   // by the person, and not by their browser
	came     string // by which host, with the port
	device   string // of the person, where it tells
}

func (p *Pages) page(r *http.Request) page {
	shown := page{Pages: p, came: r.Host, device: deviceOf(r.UserAgent())}
	shown.Language = r.URL.Query().Get("lang")
	if _, shown.chosen = catalogues[shown.Language]; !shown.chosen {
		_, i := language.MatchStrings(matcher, r.Header.Get("Accept-Language"))
		shown.Language = languages[i].String()
	}
	return shown
}

// Say is a text of the catalogue, with the values of the page in it.
func (p page) Say(key string) (string, error) {
	if _, ok := catalogues[p.Language][key]; !ok {
		return "", fmt.Errorf("the catalogue %s has no %q", p.Language, key)
	}
	return p.say(key), nil
}

func (p page) say(key string) string {
	return strings.NewReplacer(
		"{origin}", p.Origin(), "{came}", p.came, "{authority}", p.AuthorityName(), "{until}", p.until(),
	).Replace(catalogues[p.Language][key])
}

// Link is a path of ours in the language that the person chose.
func (p page) Link(path string) string {
	if p.chosen {
		return path + "?lang=" + p.Language
	}
	return path
}

// OtherLanguage is the one to switch to.
func (p page) OtherLanguage() string {
	if p.Language == "en" {
		return "es"
	}
	return "en"
}

// OtherLanguageName is in that language.
func (p page) OtherLanguageName() string { return catalogues[p.OtherLanguage()]["language.name"] }

func (p page) Farm() string          { return p.config.FarmName() }
func (p page) Origin() string        { return p.config.Origin }
func (p page) Here() string          { return p.config.Here }
func (p page) Code() template.HTML   { return p.code }
func (p page) Trusts() bool          { return p.authority != nil }
func (p page) TrustPath() string     { return p.Link(TrustPath) }
func (p page) AuthorityPath() string { return AuthorityPath }
func (p page) ProfilePath() string   { return p.Link(ProfilePath) }
func (p page) StylePath() string     { return StylePath }

// UnderLocal tells whether the farm's name is one that some phones do not find.
func (p page) UnderLocal() bool { return strings.HasSuffix(hostOnly(p.host), ".local") }

// AuthorityName is the name under which phones list the authority.
func (p page) AuthorityName() string {
	if p.authority == nil {
		return ""
	}
	return p.authority.Subject.CommonName
}

func (p page) until() string {
	if p.authority == nil {
		return ""
	}
	return p.authority.NotAfter.Format(time.DateOnly)
}

// Names are those for which the authority may vouch: hosts, and addresses of networks.
func (p page) Names() []string {
	names := slices.Clone(p.config.Names)
	for _, n := range p.config.Networks {
		from := n.Masked().Addr()
		names = append(names, strings.NewReplacer("{from}", from.String(), "{to}", lastOf(n).String()).Replace(p.say("means.range")))
	}
	return names
}

// lastOf is the last address of a network.
func lastOf(n netip.Prefix) netip.Addr {
	bytes := n.Masked().Addr().AsSlice()
	for bit := n.Bits(); bit < 8*len(bytes); bit++ {
		bytes[bit/8] |= 0x80 >> (bit % 8)
	}
	last, _ := netip.AddrFromSlice(bytes) // it has the length of the first
	return last
}

// Fingerprint is in groups.
func (p page) Fingerprint() []string { return strings.Fields(Fingerprint(p.config.AuthorityDER)) }

// Devices are the sections of the way to trust, that of the person's own device first.
func (p page) Devices() []string {
	all := []string{"iphone", "android", "laptop"}
	slices.SortStableFunc(all, func(a, b string) int {
		switch p.device {
		case a:
			return -1
		case b:
			return 1
		}
		return 0
	})
	return all
}

// Mine tells whether a section is for the person's own device.
func (p page) Mine(device string) bool { return p.device == device }

// deviceOf guesses from what a browser calls itself; a wrong guess only opens another section. An iPad
// calls itself a Mac.
func deviceOf(userAgent string) string {
	switch {
	case strings.Contains(userAgent, "iPhone"), strings.Contains(userAgent, "iPad"):
		return "iphone"
	case strings.Contains(userAgent, "Android"):
		return "android"
	}
	return "laptop"
}

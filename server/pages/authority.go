package pages

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/xml"
	"fmt"
	"net/http"
	"strings"

	"github.com/google/uuid"
)

// Fingerprint is the SHA-256 of a certificate, or of its file, in groups of four digits: to be read out
// and compared.
func Fingerprint(der []byte) string {
	sum := sha256.Sum256(der)
	digits := strings.ToUpper(hex.EncodeToString(sum[:]))
	var groups []string
	for i := 0; i < len(digits); i += 4 {
		groups = append(groups, digits[i:i+4])
	}
	return strings.Join(groups, " ")
}

// Authority is the farm's own authority as a file.
func (p *Pages) Authority() http.Handler {
	return p.file("application/x-x509-ca-cert", "authority.crt", func(page) []byte { return p.config.AuthorityDER })
}

// Profile is the same for iPhones and iPads. Of a certificate alone, some versions of Safari make a file
// that cannot be installed (https://github.com/Start9Labs/start-technologies/pull/3240).
func (p *Pages) Profile() http.Handler {
	return p.file("application/x-apple-aspen-config", "", page.profile)
}

// file answers with a file to be saved under a name, or with one that the browser knows what to do with.
func (p *Pages) file(contentType, saveAs string, body func(page) []byte) http.Handler {
	return onlyReading(func(w http.ResponseWriter, r *http.Request) {
		if p.authority == nil {
			refuse(w, r, http.StatusNotFound, "not_found", p.page(r).say("refused.no_authority"))
			return
		}
		if saveAs != "" {
			w.Header().Set("Content-Disposition", `attachment; filename="`+saveAs+`"`)
		}
		send(w, r, http.StatusOK, contentType, body(p.page(r)))
	})
}

// profileForm holds one certificate and nothing else
// (https://developer.apple.com/documentation/devicemanagement/certificateroot). Its values are, in turn:
// the certificate, its file's name, its name, an identity; the description, the name and the identity of
// the whole.
const profileForm = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0">
<dict>
	<key>PayloadContent</key>
	<array>
		<dict>
			<key>PayloadType</key><string>com.apple.security.root</string>
			<key>PayloadVersion</key><integer>1</integer>
			<key>PayloadContent</key><data>%s</data>
			<key>PayloadCertificateFileName</key><string>authority.crt</string>
			<key>PayloadDisplayName</key><string>%s</string>
			<key>PayloadIdentifier</key><string>%s</string>
			<key>PayloadUUID</key><string>%s</string>
		</dict>
	</array>
	<key>PayloadType</key><string>Configuration</string>
	<key>PayloadVersion</key><integer>1</integer>
	<key>PayloadDescription</key><string>%s</string>
	<key>PayloadDisplayName</key><string>%s</string>
	<key>PayloadIdentifier</key><string>%s</string>
	<key>PayloadUUID</key><string>%s</string>
</dict>
</plist>
`

// profile has identities that follow from the certificate, so that a second download takes the place of
// the first.
func (p page) profile() []byte {
	der := p.config.AuthorityDER
	certificate, whole := uuid.NewSHA1(uuid.Nil, der), uuid.NewSHA1(uuid.Max, der)
	name := escaped(p.AuthorityName())
	return fmt.Appendf(nil, profileForm,
		base64.StdEncoding.EncodeToString(der), name, "corymb.authority."+certificate.String(), certificate,
		escaped(p.say("profile.description")), name, "corymb.profile."+whole.String(), whole)
}

func escaped(text string) string {
	var out bytes.Buffer
	_ = xml.EscapeText(&out, []byte(text)) // a buffer takes everything
	return out.String()
}

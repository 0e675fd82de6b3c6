package pages

import (
	"bytes"
	"crypto/x509"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// The SHA-256 of "abc" (FIPS 180-4's example, https://csrc.nist.gov/projects/cryptographic-standards-and-guidelines/example-values).
func TestAFingerprintIsInGroupsOfFour(t *testing.T) {
	const want = "BA78 16BF 8F01 CFEA 4141 40DE 5DAE 2223 B003 61A3 9617 7A9C B410 FF61 F200 15AD"
	if got := Fingerprint([]byte("abc")); got != want {
		t.Errorf("it is %s", got)
	}
}

func TestTheAuthorityIsAFileToSave(t *testing.T) {
	config := ofFarm(t)
	w := get(newPages(t, config), "http://plain/authority.crt")
	if !bytes.Equal(w.Body.Bytes(), config.AuthorityDER) {
		t.Error("it is not the authority's certificate")
	}
	if got := w.Header().Get("Content-Disposition"); got != `attachment; filename="authority.crt"` {
		t.Errorf("a browser is to %s it", got)
	}
}

// strings of a property list, by the key before them.
func plist(t *testing.T, text []byte) (of map[string][]string) {
	t.Helper()
	of = map[string][]string{}
	decoder, key, in := xml.NewDecoder(bytes.NewReader(text)), "", ""
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return of
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			in = token.Name.Local
		case xml.EndElement:
			in = ""
		case xml.CharData:
			switch in {
			case "key":
				key = string(token)
			case "string", "data", "integer":
				of[key] = append(of[key], string(token))
			}
		}
	}
}

func TestTheProfileHoldsTheAuthorityAndNothingElse(t *testing.T) {
	config := ofFarm(t)
	body := get(newPages(t, config), "http://plain/authority.mobileconfig").Body.Bytes()
	of := plist(t, body)
	if got := of["PayloadType"]; len(got) != 2 || got[0] != "com.apple.security.root" || got[1] != "Configuration" {
		t.Errorf("it holds %q", got)
	}
	der, err := base64.StdEncoding.DecodeString(of["PayloadContent"][0])
	if err != nil || !bytes.Equal(der, config.AuthorityDER) {
		t.Errorf("the certificate is another (%v)", err)
	}
	if cert, err := x509.ParseCertificate(der); err != nil || of["PayloadDisplayName"][0] != cert.Subject.CommonName {
		t.Errorf("it is called %q (%v)", of["PayloadDisplayName"], err)
	}
	for _, key := range []string{"PayloadUUID", "PayloadIdentifier"} {
		if got := of[key]; len(got) != 2 || got[0] == got[1] {
			t.Errorf("%s are %q", key, got)
		}
	}
	if again := get(newPages(t, config), "http://plain/authority.mobileconfig").Body.Bytes(); !bytes.Equal(again, body) {
		t.Error("a second download would stand beside the first")
	}
	other := config
	other.AuthorityDER = authorityNamed(t, "Another")
	if ids := plist(t, get(newPages(t, other), "http://plain/authority.mobileconfig").Body.Bytes())["PayloadUUID"]; ids[0] == of["PayloadUUID"][0] {
		t.Error("another authority's profile would take the place of this one's")
	}
	if es := get(newPages(t, config), "http://plain/authority.mobileconfig?lang=es").Body.String(); !strings.Contains(es, "confíe") {
		t.Error("it does not speak Spanish")
	}
}

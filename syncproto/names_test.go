package syncproto

import "testing"

func TestAUUIDHasOneForm(t *testing.T) {
	tests := []struct {
		name, text string
		ok         bool
	}{
		{"as it is written", "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c", true},
		{"in upper case", "0B9F5A5E-6D0F-4F0A-8A51-1D1C2F3A4B5C", false},
		{"too short", "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5", false},
		{"a hyphen in place of a digit", "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5-", false},
		{"hyphens everywhere", "------------------------------------", false},
		{"one hyphen more", "-b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c", false},
		{"a hyphen moved", "0b9f5a5e6-d0f-4f0a-8a51-1d1c2f3a4b5c", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			id, ok := parseUUID(tt.text)
			if ok != tt.ok || ok && textOfUUID(id) != tt.text {
				t.Errorf("parsed as %v, %v", id, ok)
			}
		})
	}
}

package live

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
)

// sameOrigin keeps pages of other sites, which a browser would let in, away from the farm. Clients
// that are no browsers name no origin.
func sameOrigin(r *http.Request) bool {
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && strings.EqualFold(u.Host, r.Host)
}

func refuseUpgrade(w http.ResponseWriter, _ *http.Request, status int, reason error) {
	code, text := "websocket", "This address is for websockets: "+reason.Error()+"."
	if status == http.StatusForbidden {
		code, text = "origin", "A page of another site may not talk to this farm."
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	body := map[string]map[string]string{"error": {"code": code, "text": text}}
	_ = json.NewEncoder(w).Encode(body) // whoever asked has gone
}

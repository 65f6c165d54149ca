package triage

import (
	"crypto/rand"
	"crypto/subtle"
	"net"
	"net/http"
	"net/netip"
	"os"
	"slices"
	"strings"
)

// newToken is a word that nobody guesses: 26 characters of 5 bits.
func newToken() string { return strings.ToLower(rand.Text()) }

// guard turns away what was not sent by this page: calls under another host
// name (a name that somebody let point here), without the token, or from a page
// of another origin.
type guard struct {
	token string
	hosts []string // that the server goes by, with port
	open  bool     // listens on all addresses: any address of digits will do
	port  string
	next  http.Handler
}

// newGuard guards a server at an address that was asked for as name, which may
// be a host name.
func newGuard(token, name string, at net.Addr, next http.Handler) *guard {
	host, port, _ := net.SplitHostPort(at.String())
	g := &guard{token: token, port: port, next: next, hosts: []string{net.JoinHostPort(host, port)}}
	if asked, _, err := net.SplitHostPort(name); err == nil && asked != "" {
		g.hosts = append(g.hosts, net.JoinHostPort(strings.ToLower(asked), port))
	}
	ip, err := netip.ParseAddr(host)
	switch {
	case err != nil:
	case ip.IsLoopback():
		g.hosts = append(g.hosts, net.JoinHostPort("localhost", port))
	case ip.IsUnspecified():
		g.open = true
		g.hosts = append(g.hosts, net.JoinHostPort("localhost", port), net.JoinHostPort(machine(), port))
	}
	return g
}

// machine is the host name of this machine.
func machine() string {
	name, err := os.Hostname()
	if err != nil {
		return "localhost"
	}
	return strings.ToLower(name)
}

// knows reports whether a Host header names this server. Port 80 goes without.
func (g *guard) knows(host string) bool {
	host = strings.ToLower(host)
	if g.port == "80" && !strings.HasSuffix(host, ":80") {
		host += ":80"
	}
	if slices.Contains(g.hosts, host) {
		return true
	}
	name, port, err := net.SplitHostPort(host)
	if err != nil || !g.open || port != g.port {
		return false
	}
	_, err = netip.ParseAddr(name)
	return err == nil
}

func (g *guard) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer") // the address holds the token
	h.Set("Cache-Control", "no-store")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("X-Frame-Options", "DENY")
	if !g.knows(r.Host) {
		http.Error(w, "this is not the host name of this server", http.StatusForbidden)
		return
	}
	first, rest, found := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	if !found || subtle.ConstantTimeCompare([]byte(first), []byte(g.token)) != 1 {
		http.Error(w, "not found: open the whole address that embedcheck triage printed", http.StatusNotFound)
		return
	}
	origin := r.Header.Get("Origin")
	if origin != "" && !strings.EqualFold(origin, "http://"+r.Host) || origin == "" && r.Method != http.MethodGet && r.Method != http.MethodHead {
		http.Error(w, "only the page of this server may do that", http.StatusForbidden)
		return
	}
	r2 := r.Clone(r.Context())
	r2.URL.Path, r2.URL.RawPath = "/"+rest, ""
	g.next.ServeHTTP(w, r2)
}

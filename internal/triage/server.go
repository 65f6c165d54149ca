package triage

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"

	"embedcheck/internal/decision"
)

// Server serves a desk.
type Server struct {
	URL      string // of the page, with the token
	listener net.Listener
	http     *http.Server
}

// Limits of a call.
const (
	maxBody    = 4 << 20
	maxHeader  = 32 << 10
	bodyTime   = 30 * time.Second
	answerTime = 10 * time.Minute // a large issue list on a slow line
	idleTime   = 2 * time.Minute
	endTime    = 500 * time.Millisecond // that calls on their way get at the end
)

// Listen begins to listen on an address such as 127.0.0.1:0; Serve answers.
func Listen(d *Desk, address string) (*Server, error) {
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, err
	}
	token := newToken()
	host, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return nil, errors.Join(err, l.Close())
	}
	if net.ParseIP(host).IsUnspecified() {
		host = machine()
	}
	s := &Server{
		URL:      "http://" + net.JoinHostPort(host, port) + "/" + token + "/",
		listener: l,
		http: &http.Server{
			Handler: newGuard(token, address, l.Addr(), d.handler()), MaxHeaderBytes: maxHeader,
			ReadHeaderTimeout: bodyTime, ReadTimeout: bodyTime, WriteTimeout: answerTime, IdleTimeout: idleTime,
		},
	}
	return s, nil
}

// Local reports whether only this machine can reach the server.
func (s *Server) Local() bool {
	a, ok := s.listener.Addr().(*net.TCPAddr)
	return ok && a.IP.IsLoopback()
}

// Serve answers until ctx ends. An act that is being written is written whole.
func (s *Server) Serve(ctx context.Context) error {
	failed := make(chan error, 1)
	go func() { failed <- s.http.Serve(s.listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	end, cancel := context.WithTimeout(context.WithoutCancel(ctx), endTime)
	defer cancel()
	if s.http.Shutdown(end) != nil {
		s.http.Close()
	}
	if err := <-failed; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

func (d *Desk) handler() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", d.servePage)
	m.HandleFunc("GET /state", d.serveState)
	m.HandleFunc("GET /issues.bcf", d.serveIssues)
	m.HandleFunc("POST /act", d.serveAct)
	return m
}

func (d *Desk) servePage(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", d.page.Policy+"; frame-ancestors 'none'")
	w.Write(d.page.HTML)
}

func (d *Desk) serveState(w http.ResponseWriter, r *http.Request) {
	l, err := decision.Read(d.Decisions)
	if err != nil {
		fail(w, err)
		return
	}
	data, err := json.Marshal(d.state(l))
	if err != nil {
		fail(w, err)
		return
	}
	sum := sha256.Sum256(data)
	tag := `"` + hex.EncodeToString(sum[:16]) + `"`
	w.Header().Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(data)
}

func (d *Desk) serveIssues(w http.ResponseWriter, _ *http.Request) {
	var b bytes.Buffer // whole or not at all
	if err := d.WriteIssues(&b); err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "application/octet-stream")
	w.Header().Set("Content-Disposition", `attachment; filename="issues.bcf"`)
	w.Write(b.Bytes())
}

func (d *Desk) serveAct(w http.ResponseWriter, r *http.Request) {
	if r.Header.Get("Content-Type") != "application/json" {
		http.Error(w, "application/json wanted", http.StatusUnsupportedMediaType)
		return
	}
	a, err := readAct(http.MaxBytesReader(w, r.Body, maxBody))
	if err != nil {
		fail(w, err)
		return
	}
	conflicts, err := d.do(a)
	if err != nil {
		fail(w, err)
		return
	}
	l, err := decision.Read(d.Decisions)
	if err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	if len(conflicts) > 0 {
		w.WriteHeader(http.StatusConflict)
		json.NewEncoder(w).Encode(map[string]any{"conflicts": conflicts, "state": d.state(l)})
		return
	}
	json.NewEncoder(w).Encode(d.state(l))
}

// readAct reads one act and nothing after it.
func readAct(r io.Reader) (*act, error) {
	dec := json.NewDecoder(r)
	dec.DisallowUnknownFields()
	var a act
	err := dec.Decode(&a)
	if err == nil {
		if _, after := dec.Token(); !errors.Is(after, io.EOF) {
			err = errors.New("one act wanted, more found")
		}
	}
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return nil, err
	}
	if err != nil {
		return nil, refuse("the act cannot be read: %v", err)
	}
	return &a, nil
}

// fail answers with an error: the caller's, or this machine's.
func fail(w http.ResponseWriter, err error) {
	var r *refusal
	var large *http.MaxBytesError
	code := http.StatusInternalServerError
	switch {
	case errors.As(err, &r):
		code = http.StatusBadRequest
	case errors.As(err, &large):
		code = http.StatusRequestEntityTooLarge
		err = fmt.Errorf("the act is larger than %d bytes", large.Limit)
	}
	http.Error(w, err.Error(), code)
}

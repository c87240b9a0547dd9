package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"arrisbook/lessons"
	"arrisbook/server"
)

const defaultAddr = "127.0.0.1:8080"

// serveOptions are the flags of serve.
type serveOptions struct {
	addr, state, public         string
	demo, noMigrate, trustProxy bool
}

// serve runs the workbook until it is told to stop.
func serve(ctx context.Context, t terminal, args []string) error {
	var o serveOptions
	if err := o.parse(t, args); err != nil {
		return err
	}
	ln, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("cannot listen: %w", err)
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	stopWithGoTool(ctx, stop)
	return (&service{o, t, newLog(t, slog.LevelInfo), newGate(), ln}).run(ctx)
}

// parse reads and checks the flags.
func (o *serveOptions) parse(t terminal, args []string) error {
	flags := newFlags("serve")
	flags.StringVar(&o.addr, "addr", defaultAddr, "`address` to listen on")
	flags.StringVar(&o.state, "state", "", "`folder` of the private database (or ARRISBOOK_STATE)")
	flags.StringVar(&o.public, "public", "", "`URL` that people reach the server by, for cards and links")
	flags.BoolVar(&o.demo, "demo", false, "fill an empty database with an invented class")
	flags.BoolVar(&o.noMigrate, "no-migrate", false, "refuse an older schema instead of bringing it up")
	flags.BoolVar(&o.trustProxy, "trust-proxy", false, "let a proxy on a private address say where a request comes from")
	if err := parse(t, "serve", flags, args, noArgs); err != nil {
		return err
	}
	return checkPublic(&o.public)
}

// checkPublic wants a whole address, and takes a slash off its end.
func checkPublic(public *string) error {
	if *public == "" {
		return nil
	}
	u, err := url.Parse(*public)
	if err != nil || (u.Scheme != "http" && u.Scheme != "https") || u.Host == "" || u.RawQuery != "" || u.Fragment != "" {
		return wrongUse("-public: %q is not a whole address such as https://book.example", *public)
	}
	*public = strings.TrimSuffix(*public, "/")
	return nil
}

// service is one run of serve.
type service struct {
	o    serveOptions
	t    terminal
	log  *slog.Logger
	gate *gate
	ln   net.Listener
}

// run answers from the first moment, opens the gate when the database is
// ready, and takes everything down again in the opposite order.
func (s *service) run(ctx context.Context) (err error) {
	web := newHTTPServer(s.gate, s.log)
	failed := make(chan error, 1)
	go func() { failed <- web.Serve(s.ln) }()
	defer func() {
		if ended := s.shutdown(web); err == nil {
			err = ended
		}
	}()
	db, err := openDatabase(ctx, s.t, s.o.state, true, s.log)
	if err != nil {
		return whenStopped(ctx, err)
	}
	defer func() {
		s.shutdown(web) // no request may be under way when the connections go
		if ended := s.closeDatabase(db); err == nil {
			err = ended
		}
	}()
	if err := s.start(ctx, db); err != nil {
		return whenStopped(ctx, err)
	}
	select {
	case <-ctx.Done():
		s.log.Info("stopping")
		return nil
	case err := <-db.done():
		return err
	case err := <-failed:
		return fmt.Errorf("serve: %w", err)
	}
}

// whenStopped drops an error that only says that we were told to stop.
func whenStopped(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// start brings the schema up, builds the pages and opens the gate.
func (s *service) start(ctx context.Context, db *database) error {
	if err := s.schema(ctx, db); err != nil {
		return err
	}
	library, err := lessons.Shipped()
	if err != nil {
		return err
	}
	cfg := server.Config{
		Store: db.Store, Lessons: library, Now: time.Now, Log: s.log,
		PublicURL: s.o.public, TrustProxy: s.o.trustProxy,
	}
	h, err := server.New(cfg)
	if err != nil {
		return err
	}
	says, err := s.firstSteps(ctx, cfg)
	if err != nil {
		return err
	}
	s.gate.open(h)
	fmt.Fprintf(s.t.stdout, "Arrisbook is ready at %s\n%s", s.address(), says)
	return nil
}

// firstSteps says how somebody gets in who has not been here before: nothing
// once there is an instructor. It goes to standard output and never to the
// log: whoever holds the link is the first instructor.
func (s *service) firstSteps(ctx context.Context, cfg server.Config) (string, error) {
	if s.o.demo {
		lines, err := server.FillDemo(ctx, cfg)
		return strings.Join(append(lines, ""), "\n"), err
	}
	path, needed, err := server.SetUpPath(ctx, cfg)
	if err != nil || !needed {
		return "", err
	}
	return fmt.Sprintf("There is no instructor yet. This link makes the first one, once:\n  %s%s\n", s.address(), path), nil
}

func (s *service) schema(ctx context.Context, db *database) error {
	if s.o.noMigrate {
		return db.CheckSchema(ctx)
	}
	applied, err := db.Migrate(ctx)
	if err == nil && len(applied) > 0 {
		s.log.Info("schema brought up", "migrations", applied)
	}
	return err
}

// address is where people reach the server.
func (s *service) address() string {
	if s.o.public != "" {
		return s.o.public
	}
	return "http://" + reachableAddr(s.ln.Addr().String())
}

// reachableAddr puts this machine in place of "every address".
func reachableAddr(addr string) string {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return addr
	}
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
	}
	return net.JoinHostPort(host, port)
}

// shutdown lets the requests under way finish.
func (s *service) shutdown(web *http.Server) error {
	s.gate.shut()
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if err := web.Shutdown(ctx); errors.Is(err, context.DeadlineExceeded) {
		return errors.Join(errors.New("some requests did not finish in time"), web.Close())
	} else if err != nil {
		return fmt.Errorf("shut down: %w", err)
	}
	return nil
}

func (s *service) closeDatabase(db *database) error {
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	return db.close(ctx)
}

package main

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/compose-spec/compose-go/v2/cli"
	"github.com/compose-spec/compose-go/v2/types"
)

// loadCompose reads docker-compose.yml against the Compose specification.
func loadCompose(t *testing.T, env ...string) (*types.Project, error) {
	t.Helper()
	o, err := cli.NewProjectOptions([]string{"../../docker-compose.yml"}, cli.WithEnv(env), cli.WithName("arrisbook"))
	if err != nil {
		t.Fatal(err)
	}
	return o.LoadProject(t.Context())
}

func mustLoadCompose(t *testing.T) *types.Project {
	t.Helper()
	p, err := loadCompose(t, "ARRISBOOK_DB_PASSWORD=p@ss/word")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestComposeNeedsPassword(t *testing.T) {
	if _, err := loadCompose(t); err == nil || !strings.Contains(err.Error(), "ARRISBOOK_DB_PASSWORD") {
		t.Errorf("loading without a password: %v, want an error that names the variable", err)
	}
}

func TestComposeDatabase(t *testing.T) {
	db := mustLoadCompose(t).Services["db"]
	if db.Image != "postgres:17" {
		t.Errorf("image = %q, want postgres:17", db.Image)
	}
	if len(db.Ports) != 0 {
		t.Errorf("the database publishes %v, want nothing", db.Ports)
	}
	if v := db.Volumes; len(v) != 1 || v[0].Type != types.VolumeTypeVolume || v[0].Source != "db" || v[0].Target != "/var/lib/postgresql/data" {
		t.Errorf("volumes = %v, want the named volume db on the data folder", v)
	}
	if got := env(db, "POSTGRES_INITDB_ARGS"); got != "--data-checksums" {
		t.Errorf("initdb gets %q, want data checksums", got)
	}
	if got := []string(db.HealthCheck.Test); !slices.Equal(got[:4], []string{"CMD", "pg_isready", "-h", "127.0.0.1"}) {
		t.Errorf("health check %v, want pg_isready over TCP", got)
	}
	if got := env(db, "POSTGRES_PASSWORD"); got != "p@ss/word" {
		t.Errorf("password = %q, want the one of the environment", got)
	}
}

func TestComposeApp(t *testing.T) {
	app := mustLoadCompose(t).Services["app"]
	if app.Build == nil || app.Build.Dockerfile != "cmd/arrisbook/Dockerfile" {
		t.Fatalf("build = %+v, want cmd/arrisbook/Dockerfile", app.Build)
	}
	if got := app.DependsOn["db"].Condition; got != types.ServiceConditionHealthy {
		t.Errorf("depends on db %q, want healthy", got)
	}
	if app.User != "10001:10001" || !app.ReadOnly || !slices.Equal(app.Tmpfs, []string{"/tmp"}) || !slices.Equal(app.CapDrop, []string{"ALL"}) {
		t.Errorf("user %q, read only %v, tmpfs %v, dropped %v", app.User, app.ReadOnly, app.Tmpfs, app.CapDrop)
	}
	if got := []string(app.HealthCheck.Test); !slices.Equal(got, []string{"CMD", "/arrisbook", "healthcheck"}) {
		t.Errorf("health check %v", got)
	}
	if p := app.Ports; len(p) != 1 || p[0].HostIP != "127.0.0.1" || p[0].Target != 8080 {
		t.Errorf("ports = %+v, want 8080 for this machine only, unless told otherwise", p)
	}
	if url := env(app, "DATABASE_URL"); !strings.Contains(url, "@db:5432/") || strings.Contains(url, "word") {
		t.Errorf("DATABASE_URL = %q, want the service db and no password in it", url)
	}
	if got := env(app, "PGPASSWORD"); got != "p@ss/word" {
		t.Errorf("PGPASSWORD = %q, want the one of the environment", got)
	}
	// Shutting down takes up to 10 s for requests and 20 s for the database.
	if app.StopGracePeriod == nil || time.Duration(*app.StopGracePeriod) < 30*time.Second {
		t.Errorf("grace period = %v, want 30 s at least", app.StopGracePeriod)
	}
	// What the container runs must be a command line this program takes.
	if c := []string(app.Command); len(c) == 0 || c[0] != "serve" {
		t.Errorf("command = %v, want serve", c)
	}
	if err := new(serveOptions).parse(terminal{}, app.Command[1:]); err != nil {
		t.Errorf("command %v: %v", app.Command, err)
	}
}

func env(s types.ServiceConfig, name string) string {
	if v := s.Environment[name]; v != nil {
		return *v
	}
	return ""
}

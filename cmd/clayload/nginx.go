package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// nginxSetting serves one file that is compressed already, with as many workers as there are processors, as fast as nginx
// does: nothing is logged, what is open stays open, and connections are kept.
const nginxSetting = `
daemon off;
worker_processes auto;
pid %[1]s/nginx.pid;
error_log stderr crit;
events { worker_connections 1024; }
http {
	access_log off;
	client_body_temp_path %[1]s/body;
	proxy_temp_path %[1]s/proxy;
	fastcgi_temp_path %[1]s/fastcgi;
	uwsgi_temp_path %[1]s/uwsgi;
	scgi_temp_path %[1]s/scgi;
	default_type "text/html; charset=utf-8";
	sendfile on;
	tcp_nopush on;
	open_file_cache max=10 inactive=1h;
	open_file_cache_valid 1h;
	keepalive_requests 100000000;
	server {
		listen %[2]s;
		root %[1]s/page;
		gzip_static on;
	}
}
`

// nginxReady bounds how long it may take to answer.
const nginxReady = 10 * time.Second

// nginx starts an nginx that has a page compressed, and returns its address. It runs as long as the house.
func (h *house) nginx(ctx context.Context, program string, body []byte) (string, error) {
	program, err := exec.LookPath(program)
	if err != nil {
		return "", err
	}
	dir := filepath.Join(h.dir, "nginx")
	if err := os.MkdirAll(filepath.Join(dir, "page"), 0o755); err != nil { // #nosec G301 -- its workers are another user
		return "", err
	}
	// Beside the compressed file lies the plain one, which nobody asks for.
	for name, text := range map[string][]byte{"page": nil, "page.gz": body} {
		if err := os.WriteFile(filepath.Join(dir, "page", name), text, 0o644); err != nil { // #nosec G306 -- as above
			return "", err
		}
	}
	host, err := free(ctx)
	if err != nil {
		return "", err
	}
	setting := filepath.Join(dir, "nginx.conf")
	if err := os.WriteFile(setting, fmt.Appendf(nil, nginxSetting, dir, host), 0o600); err != nil {
		return "", err
	}
	serve := exec.CommandContext(context.WithoutCancel(ctx), program, "-c", setting, "-p", dir) // #nosec G204 -- named by who measures
	serve.Stderr = os.Stderr
	if err := serve.Start(); err != nil {
		return "", err
	}
	h.close = append(h.close, func() {
		_ = serve.Process.Signal(os.Interrupt)
		_ = serve.Wait()
	})
	address := "http://" + host + "/page"
	for began := clock(); ; time.Sleep(20 * time.Millisecond) {
		switch _, _, err := fetch(ctx, address); {
		case err == nil:
			return address, nil
		case clock().Sub(began) > nginxReady:
			return "", err
		}
	}
}

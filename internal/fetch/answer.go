package fetch

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// answer is what is kept of one address.
type answer struct {
	URL      string    `json:"url"`
	Fetched  time.Time `json:"fetched"`            // when the body came
	Expires  time.Time `json:"expires"`            // until when the service is not asked again
	Modified string    `json:"modified,omitempty"` // as the service wrote it
	Tag      string    `json:"tag,omitempty"`
	Failures int       `json:"failures,omitempty"` // in a row
	Wait     time.Time `json:"wait,omitzero"`      // after a failure, not before then
	Body     []byte    `json:"body,omitempty"`

	trouble string // why the body is not a newer one
}

const (
	bodyLimit = 8 << 20
	// leastAge is how long an answer serves even where the service does not
	// say, or says less.
	leastAge = 10 * time.Minute
	// mostAge bounds what a service may say.
	mostAge = 24 * time.Hour
	// firstWait is the pause after one failure; it doubles with each further
	// one up to mostWait.
	firstWait = time.Minute
	mostWait  = 6 * time.Hour
)

// get returns the answer of an address: the kept one while it has not expired,
// else a new one, else the kept one with the trouble noted.
func (c *Client) get(ctx context.Context, url string) (*answer, error) {
	if c.Dir == "" || c.Agent == "" {
		return nil, errors.New("fetch: a directory for answers and the name of the operator are needed; the services refuse askers without a name")
	}
	now := c.now()
	a := c.load(url)
	if len(a.Body) > 0 && now.Before(a.Expires) {
		return a, nil
	}
	if now.Before(a.Wait) {
		return a.orError(fmt.Errorf("after %d failures the service is left alone until %s", a.Failures, a.Wait.UTC().Format("2006-01-02 15:04Z")))
	}
	err := c.ask(ctx, a, now)
	if ctx.Err() != nil {
		return nil, ctx.Err() // the asker gave up; the service did nothing wrong
	}
	if kept := c.keep(a); kept != nil {
		return nil, fmt.Errorf("keep the answer: %w", kept)
	}
	if err != nil {
		return a.orError(err)
	}
	return a, nil
}

// orError returns the kept body with the trouble noted, or the trouble.
func (a *answer) orError(err error) (*answer, error) {
	if len(a.Body) == 0 {
		return nil, err
	}
	a.trouble = err.Error()
	return a, nil
}

// ask asks the service and writes what came of it into a.
func (c *Client) ask(ctx context.Context, a *answer, now time.Time) error {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, a.URL, nil)
	if err != nil {
		return err
	}
	req.Header.Set("User-Agent", c.Agent)
	req.Header.Set("Accept", "application/geo+json, application/json")
	if len(a.Body) > 0 {
		if a.Modified != "" {
			req.Header.Set("If-Modified-Since", a.Modified)
		}
		if a.Tag != "" {
			req.Header.Set("If-None-Match", a.Tag)
		}
	}
	client := c.HTTP
	if client == nil {
		client = &http.Client{Timeout: 20 * time.Second}
	}
	res, err := client.Do(req)
	if err != nil {
		a.failed(now, 0)
		return fmt.Errorf("the service cannot be reached: %w", err)
	}
	defer res.Body.Close()
	switch {
	case res.StatusCode == http.StatusNotModified && len(a.Body) > 0:
		a.Failures, a.Wait = 0, time.Time{}
		a.Expires = expiry(res.Header, now)
		return nil
	case res.StatusCode == http.StatusOK || res.StatusCode == http.StatusNonAuthoritativeInfo:
		return a.take(res, now)
	}
	a.failed(now, retryAfter(res.Header, now))
	switch code := res.StatusCode; {
	case code == http.StatusForbidden:
		return errors.New("the service refuses (403); does it accept the name the program gives itself?")
	case code == http.StatusNotFound:
		return errors.New("the service has no forecast for this place (404)")
	case code == http.StatusTooManyRequests:
		return errors.New("the service was asked too often (429)")
	case code >= 500:
		return fmt.Errorf("the service is in trouble (%d)", code)
	default:
		return fmt.Errorf("the service answers %s", res.Status)
	}
}

// take reads the body of a good answer.
func (a *answer) take(res *http.Response, now time.Time) error {
	body, err := io.ReadAll(io.LimitReader(res.Body, bodyLimit+1))
	switch {
	case err != nil:
		err = fmt.Errorf("the answer broke off: %w", err)
	case len(body) > bodyLimit:
		err = fmt.Errorf("the answer is larger than %d MB", bodyLimit>>20)
	case !json.Valid(body):
		err = errors.New("the answer is no JSON")
	}
	if err != nil {
		a.failed(now, 0)
		return err
	}
	a.Body, a.Fetched = body, now
	a.Modified, a.Tag = res.Header.Get("Last-Modified"), res.Header.Get("ETag")
	a.Failures, a.Wait = 0, time.Time{}
	a.Expires = expiry(res.Header, now)
	return nil
}

// failed notes a failure; the service is left alone for a doubling time, or for
// as long as it asks.
func (a *answer) failed(now time.Time, asked time.Duration) {
	wait := firstWait << min(a.Failures, 12)
	a.Failures++
	a.Wait = now.Add(max(min(wait, mostWait), min(asked, mostAge)))
}

// expiry returns until when an answer serves.
func expiry(h http.Header, now time.Time) time.Time {
	age := time.Duration(0)
	for _, part := range strings.Split(h.Get("Cache-Control"), ",") {
		if n, ok := strings.CutPrefix(strings.TrimSpace(part), "max-age="); ok {
			if s, err := strconv.Atoi(n); err == nil {
				age = time.Duration(min(s, int(mostAge/time.Second))) * time.Second
			}
		}
	}
	if t, err := http.ParseTime(h.Get("Expires")); age == 0 && err == nil {
		age = t.Sub(now)
	}
	return now.Add(max(leastAge, min(age, mostAge)))
}

// retryAfter returns how long a service asks to be left alone.
func retryAfter(h http.Header, now time.Time) time.Duration {
	v := h.Get("Retry-After")
	if s, err := strconv.Atoi(v); err == nil && s > 0 {
		return time.Duration(min(s, int(mostAge/time.Second))) * time.Second
	}
	if t, err := http.ParseTime(v); err == nil {
		return t.Sub(now)
	}
	return 0
}

func (c *Client) now() time.Time {
	if c.Now != nil {
		return c.Now()
	}
	return time.Now()
}

func (c *Client) path(url string) string {
	sum := sha256.Sum256([]byte(url))
	return filepath.Join(c.Dir, hex.EncodeToString(sum[:12])+".json")
}

// load returns what is kept of an address; what cannot be read is as good as
// nothing.
func (c *Client) load(url string) *answer {
	fresh := &answer{URL: url}
	b, err := os.ReadFile(c.path(url))
	if err != nil {
		return fresh
	}
	a := new(answer)
	if json.Unmarshal(b, a) != nil || a.URL != url {
		return fresh
	}
	return a
}

// keep writes an answer in one piece.
func (c *Client) keep(a *answer) error {
	if err := os.MkdirAll(c.Dir, 0o755); err != nil {
		return err
	}
	b, err := json.Marshal(a)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(c.Dir, "answer-*")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	err = errors.Join(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), c.path(a.URL))
	}
	if err != nil {
		if gone := os.Remove(f.Name()); !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}
	return err
}

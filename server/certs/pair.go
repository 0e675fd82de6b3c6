package certs

import (
	"crypto/ecdsa"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"corymb/server/disk"
)

// pair is a certificate and its key.
type pair struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

// readPair reads a certificate and its key, which this package wrote.
func readPair(certPath, keyPath string) (pair, error) {
	read, err := tls.LoadX509KeyPair(certPath, keyPath)
	if err != nil {
		return pair{}, err
	}
	key, ok := read.PrivateKey.(*ecdsa.PrivateKey)
	if !ok {
		return pair{}, fmt.Errorf("the key in %s is not one of an elliptic curve", keyPath)
	}
	return pair{read.Leaf, key}, nil
}

// write writes the key before the certificate: a certificate without its key is of no use, and the key
// alone does no harm.
func (p pair) write(certPath, keyPath string) error {
	key, err := x509.MarshalPKCS8PrivateKey(p.key)
	if err != nil {
		return err
	}
	if err := writeFile(keyPath, &pem.Block{Type: "PRIVATE KEY", Bytes: key}, 0o600); err != nil {
		return err
	}
	return writeFile(certPath, &pem.Block{Type: "CERTIFICATE", Bytes: p.cert.Raw}, 0o644)
}

// syncFolder is looked on by tests.
var syncFolder = disk.SyncFolder

// writeFile puts a file in the place of another, whole or not at all, so that a power cut does not undo it.
func writeFile(path string, block *pem.Block, mode os.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(path), "new-*")
	if err != nil {
		return err
	}
	err = errors.Join(pem.Encode(f, block), f.Chmod(mode), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return syncFolder(filepath.Dir(path))
}

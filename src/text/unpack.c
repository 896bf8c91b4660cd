/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unpack.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

#define PIECE 65536
#define UNPACKED_MAX (1024UL * 1024UL * 1024UL)
/* zlib: the largest window, and a gzip head is expected. */
#define WINDOW_BITS (15 + 16)

struct th_unpack {
    z_stream stream;
    unsigned long given;
    bool between; /* a member has ended; another may follow */
    unsigned char in[PIECE];
};

bool th_is_packed(const char *head, size_t n)
{
    return n >= 2 && memcmp(head, "\x1F\x8B", 2) == 0;
}

struct th_unpack *th_unpack_new(const char *head, size_t n)
{
    struct th_unpack *const unpack = calloc(1, sizeof *unpack);
    if (!unpack)
        return NULL;
    memcpy(unpack->in, head, n);
    unpack->stream.next_in = unpack->in;
    unpack->stream.avail_in = (unsigned)n;
    if (inflateInit2(&unpack->stream, WINDOW_BITS) == Z_OK)
        return unpack;
    free(unpack);
    return NULL;
}

static enum th_code refill(struct th_unpack *unpack, FILE *file, struct th_error *err)
{
    if (unpack->stream.avail_in > 0)
        return TH_OK;
    unpack->stream.next_in = unpack->in;
    unpack->stream.avail_in = (unsigned)fread(unpack->in, 1, PIECE, file);
    return ferror(file) ? th_fail(err, TH_ERR_READ, "cannot be read: %s", strerror(errno)) : TH_OK;
}

static enum th_code take(struct th_unpack *unpack, int result, struct th_error *err)
{
    unpack->between = result == Z_STREAM_END;
    if (result == Z_STREAM_END)
        return inflateReset(&unpack->stream) == Z_OK
                   ? TH_OK
                   : th_fail(err, TH_ERR_READ, "the packed file (gzip) is damaged");
    if (result == Z_MEM_ERROR)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return result == Z_OK
               ? TH_OK
               : th_fail(err, TH_ERR_READ, "the packed file (gzip) is damaged; fetch it again");
}

enum th_code th_unpack_read(struct th_unpack *unpack, FILE *file, char *out, size_t room,
                            size_t *got, struct th_error *err)
{
    z_stream *const stream = &unpack->stream;
    stream->next_out = (unsigned char *)out;
    stream->avail_out = (unsigned)room;
    enum th_code code = TH_OK;
    while (code == TH_OK && stream->avail_out > 0) {
        code = refill(unpack, file, err);
        if (code != TH_OK || (stream->avail_in == 0 && unpack->between))
            break;
        if (stream->avail_in == 0)
            return th_fail(err, TH_ERR_READ,
                           "the packed file (gzip) ends too early; fetch it again");
        code = take(unpack, inflate(stream, Z_NO_FLUSH), err);
    }
    *got = room - stream->avail_out;
    unpack->given += *got;
    if (code == TH_OK && unpack->given > UNPACKED_MAX)
        return th_fail(err, TH_ERR_READ, "the file unpacks to more than a gigabyte");
    return code;
}

void th_unpack_free(struct th_unpack *unpack)
{
    if (unpack)
        inflateEnd(&unpack->stream);
    free(unpack);
}

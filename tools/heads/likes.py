#!/usr/bin/python3
"""Learns whether two pieces of one set are of one kind, whatever their make.

    likes.py COUNT WEIGHTS [+CROPS ...] [=NET] [CROPS ...]

Sets of solids of drawn sections, most unlike any piece, are drawn here by
marching rays through them, on a graphics card (or, slowly, without): lit,
shaded, blurred, beside neighbours, on squares, misplaced by a millimetre and
with heights told wrong by up to 22 %. A network learns numbers for each piece
such that those of a kind lie near each other: in each episode some pieces of a
set are known and the kinds of others are asked for; kinds may be missing.
+CROPS are ray-traced pieces to learn from as well (`tools/heads -likes`), CROPS
those to be judged by; =NET goes on from an earlier run's net.pt. A run ends when
COUNT batches of sets have been drawn, and all chance is seeded (SEED, else 1): the
same machine with the same libraries gives the same weights, another kind of
processor others as good. Weights are written as internal/sight/heads reads them:
the upper halves of float32, in the order of save, then the nats of one side and of
a kind that was not met; looks.bin beside them has twelve of the CROPS with what
these weights make of them, for a test of that package.
"""

import math
import os
import random
import struct
import sys
import time

os.environ.setdefault('CUBLAS_WORKSPACE_CONFIG',':4096:8') # else sums come in any order
import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

dev='cuda' if torch.cuda.is_available() else 'cpu'
SEED=int(os.environ.get('SEED','1'))
torch.manual_seed(SEED); np.random.seed(SEED); random.seed(SEED)
torch.use_deterministic_algorithms(True,warn_only=True); torch.backends.cudnn.benchmark=False
NT=64; SIDE=48; SS=2
def U(a,b,*s): return a+(b-a)*torch.rand(*s,device=dev)
def smooth_table(n,knots_lo=3):
    """n random profiles over NT levels: piecewise linear/cosine/step"""
    K=8
    z=torch.sort(torch.rand(n,K,device=dev),1).values; z[:,0]=0; z[:,-1]=1
    r=U(0.1,1,n,K); r[:,0]=U(0.75,1,n)
    m=(torch.rand(n,K,device=dev)<0.35)                # keep radius of the one before
    for i in range(1,K): r[:,i]=torch.where(m[:,i],r[:,i-1],r[:,i])
    fewer=(torch.rand(n,1,device=dev)<0.4)             # few knots only
    r2=r.clone()
    for i in (2,4,6): r2[:,i]=(r[:,i-1]+r[:,i+1])/2
    r=torch.where(fewer,r2,r)
    t=torch.linspace(0,1,NT,device=dev).expand(n,NT).contiguous()
    i=torch.searchsorted(z.contiguous(),t).clamp(1,K-1)
    z0=z.gather(1,i-1); z1=z.gather(1,i); f=((t-z0)/(z1-z0+1e-6)).clamp(0,1)
    mode=torch.rand(n,1,device=dev)
    f=torch.where(mode<0.35,f,torch.where(mode<0.75,(1-torch.cos(math.pi*f))/2,(f>0.5).float()))
    return r.gather(1,i-1)*(1-f)+r.gather(1,i)*f
def make_sets(S,K):
    """ring tables rx,ry,cy (S,K,NT) in base radii, power p, heights (in mean bases), bases"""
    n=S*K
    rx=smooth_table(n).view(S,K,NT); ratio=torch.where(torch.rand(S,K,1,device=dev)<0.3,U(0.35,0.95,S,K,1),torch.ones(S,K,1,device=dev))
    # a style in common: one body for all kinds, other heads
    body=smooth_table(S).view(S,1,NT); cut=U(0.45,0.75,S,1,1); t=torch.linspace(0,1,NT,device=dev).view(1,1,NT)
    w=((t-cut)/0.06).clamp(0,1)
    slim=0.35+0.65*body
    common=torch.rand(S,1,1,device=dev)<0.5
    turnedbody=(torch.where(t<0.1,torch.ones_like(t),U(0.3,0.5,S,1,1)+ (U(0.2,0.5,S,1,1))*(1-t).clamp(0,1)**3)).expand(S,1,NT)
    bd=torch.where(torch.rand(S,1,1,device=dev)<0.6,turnedbody,slim)
    rx=torch.where(common,bd*(1-w)+rx*(0.75*w),rx)
    # round off or cut at the top
    top=torch.rand(S,K,1,device=dev)<0.5; k=U(0.03,0.3,S,K,1)
    dome=((1-t)/k).clamp(0,1).sqrt()
    rx=torch.where(top,rx*dome,rx).clamp(0.02,1)
    ry=rx.clone()
    fl=torch.where(common&(torch.rand(S,K,1,device=dev)<0.6),torch.ones_like(ratio),ratio)
    wide=((t-0.12)/0.1).clamp(0,1)
    rx=rx*(1-wide+wide*fl)
    lean=torch.where(torch.rand(S,K,1,device=dev)<0.3,U(-0.5,0.5,S,K,1),torch.zeros(S,K,1,device=dev))
    curve=torch.where(torch.rand(S,K,1,device=dev)<0.5,t.expand(S,K,NT),torch.sin(t*U(1,4,S,K,1)))
    cy=lean*curve*(1-ry)
    p=torch.where(torch.rand(S,K,device=dev)<0.7,torch.full((S,K),2.,device=dev),torch.where(torch.rand(S,K,device=dev)<0.7,torch.full((S,K),10.,device=dev),torch.full((S,K),1.1,device=dev)))
    slant=torch.where(torch.rand(S,K,device=dev)<0.15,U(-0.5,0.5,S,K),torch.zeros(S,K,device=dev)) # of the top
    king=U(2.1,3.9,S,1)
    usual=torch.stack([U(.42,.52,S),U(.65,.73,S),U(.74,.84,S),U(.54,.63,S),U(.87,.95,S)],1)
    free=U(.42,1,S,K)
    close=U(.6,.8,S,1)+0.12*torch.randn(S,K,device=dev)
    c=torch.rand(S,1,device=dev)
    h=king*torch.where(c<0.5,usual,torch.where(c<0.75,free,close.clamp(.35,1)))
    teeth=torch.where(torch.rand(S,K,device=dev)<0.2,torch.randint(1,9,(S,K),device=dev).float(),torch.zeros(S,K,device=dev)); toothz=U(.8,.93,S,K)
    base=1+0.07*torch.randn(S,K,device=dev); base[:,0]*=U(.8,.95,S)
    return dict(rx=rx,ry=ry,cy=cy,p=p,h=h,base=base.clamp(.7,1.25),slant=slant,teeth=teeth,toothz=toothz,usual=(c<0.5))
def inside(tab,idx,x,y,z,yaw):
    """x,y,z (C,N) relative to a piece's foot; idx (C,) row of the set tables"""
    h=tab['h'][idx][:,None]; rb=tab['base'][idx][:,None]/2
    c,s=torch.cos(yaw)[:,None],torch.sin(yaw)[:,None]
    u,v=(c*x+s*y)/rb,(-s*x+c*y)/rb
    t=z/h+tab['slant'][idx][:,None]*v.clamp(-1,1)*(z/h>0.6)
    k=(t*(NT-1)); k0=k.floor().clamp(0,NT-2).long(); f=(k-k0).clamp(0,1)
    def look(n):
        T=tab[n][idx]; return T.gather(1,k0)*(1-f)+T.gather(1,k0+1)*f
    rx,ry,cy=look('rx'),look('ry'),look('cy')
    p=tab['p'][idx][:,None]
    a=(u/rx).abs().clamp(1e-4,6); b=((v-cy)/ry).abs().clamp(1e-4,6)
    F_=(a**p+b**p)**(1/p)-1
    nt=tab['teeth'][idx][:,None]; ang=torch.atan2(v,u)
    gap=torch.where((nt>0)&(t>tab['toothz'][idx][:,None])&(a.abs()+b.abs()>0),torch.cos(ang*nt)*0.6,torch.full_like(t,-1.))
    hollow=torch.where((nt>0)&(t>tab['toothz'][idx][:,None]),0.72-(a**2+b**2).sqrt(),torch.full_like(t,-1.))
    F_=torch.maximum(F_,torch.maximum(gap,hollow))
    F_=torch.maximum(F_,(t-1)*8)
    return torch.where((z>0),F_,torch.full_like(F_,9.))
def draw(tabs,S,K,M):
    """S sessions, K kinds, M instances each: crops (S,K,M,48,48), lean (S,K,M), colour (S,K,M)"""
    C=S*K*M
    sidx=torch.arange(S,device=dev).view(S,1,1).expand(S,K,M).reshape(-1)
    kidx=torch.arange(K,device=dev).view(1,K,1).expand(S,K,M).reshape(-1)
    tab={n:(v.reshape(S*K,-1).squeeze(-1) if v.dim()>2 or n in('p','h','base','slant','teeth','toothz') else v) for n,v in tabs.items() if n!='usual'}
    for n in ('p','h','base','slant','teeth','toothz'): tab[n]=tabs[n].reshape(S*K)
    main=sidx*K+kidx
    sq=U(1/0.62,1/0.42,S)[sidx]; Z=U(11,21,S)[sidx]*sq   # 450-700 mm, 25-50 mm squares
    reach=torch.where(torch.rand(C,device=dev)<0.7,U(3.2,4.9,C),U(2.3,5.3,C))*sq
    col=(torch.rand(C,device=dev)<0.5).long()
    theta=U(0,2*math.pi,C)                # board axes in the crop
    hm=tabs['h'][:,1:].mean(1)[sidx]
    wrong=torch.where(torch.rand(S,device=dev)<0.6,U(0.78,1.22,S),torch.ones(S,device=dev))[sidx]
    hg=hm*wrong
    plane=0.75*hg
    # true foot is off the believed one
    e=torch.stack([0.035*torch.randn(C,device=dev),0.05*torch.randn(C,device=dev)],1)
    n=SIDE*SS; g=(torch.arange(n,device=dev)+0.5)/n*SIDE-0.5
    unit=2*0.75/SIDE
    ax=((g-(SIDE-1)/2)*unit).view(1,1,n); oy=(((SIDE-1)/2-g)*unit).view(1,n,1)
    ax=ax.expand(C,n,n).reshape(C,-1); oy=oy.expand(C,n,n).reshape(C,-1)
    # ray: eye (0,-reach,Z) through (ax,oy,plane); at height z: P = eye+(Z-z)/(Z-plane)*(Q-eye)
    dx=ax/(Z-plane)[:,None]; dy=(oy+reach[:,None])/(Z-plane)[:,None]
    def at(z): # z (C,1) or (C,N)
        k=Z[:,None]-z; return dx*k,dy*k-reach[:,None]
    # pieces: main and two neighbours
    feet=[e]; rows=[main]; yaws=[]
    facing=torch.where(kidx==1,torch.where(torch.rand(C,device=dev)<0.6,theta+col*math.pi+0.25*torch.randn(C,device=dev),U(0,6.3,C)),U(0,6.3,C))
    yaws.append(facing)
    for j in range(2):
        q=torch.randint(0,8,(C,),device=dev); q=torch.tensor([[1,0],[-1,0],[0,1],[0,-1],[1,1],[1,-1],[-1,1],[-1,-1]],device=dev,dtype=torch.float)[q]
        off=(q+0.06*torch.randn(C,2,device=dev))*sq[:,None]
        ct,st=torch.cos(theta)[:,None],torch.sin(theta)[:,None]
        off=torch.cat([ct*off[:,:1]-st*off[:,1:],st*off[:,:1]+ct*off[:,1:]],1)
        off=off+(torch.rand(C,1,device=dev)<0.25)*100
        feet.append(off); rows.append(sidx*K+torch.randint(0,K,(C,),device=dev)); yaws.append(U(0,6.3,C))
    ncol=[col,(torch.rand(C,device=dev)<0.5).long(),(torch.rand(C,device=dev)<0.5).long()]
    N=n*n
    zhit=torch.zeros(C,N,device=dev); who=torch.full((C,N),-1,device=dev,dtype=torch.long)
    L=36
    for j in range(3):
        h=tab['h'][rows[j]][:,None]; found=torch.zeros(C,N,device=dev,dtype=torch.bool)
        for i in range(L):
            z=h*(1-(i+0.5)/L); x,y=at(z)
            f=inside(tab,rows[j],x-feet[j][:,:1],y-feet[j][:,1:],z.expand(C,N),yaws[j])<0
            new=f&~found; found|=f
            better=new&(z>zhit)
            zhit=torch.where(better,z.expand(C,N),zhit); who=torch.where(better,j,who)
    x,y=at(zhit)
    # normals
    nrm=torch.zeros(C,N,3,device=dev); nrm[...,2]=1
    d=0.02
    for j in range(3):
        fx,fy=x-feet[j][:,:1],y-feet[j][:,1:]
        I=lambda a,b,c: inside(tab,rows[j],a,b,c,yaws[j]).clamp(-2,2)
        gx=I(fx+d,fy,zhit)-I(fx-d,fy,zhit); gy=I(fx,fy+d,zhit)-I(fx,fy-d,zhit); gz=I(fx,fy,zhit+2*d)-I(fx,fy,zhit-2*d)
        v=torch.stack([gx,gy,gz/2],-1); v=v/(v.norm(dim=-1,keepdim=True)+1e-4)
        nrm=torch.where((who==j)[...,None],v,nrm)
    # ground
    ct,st=torch.cos(theta)[:,None],torch.sin(theta)[:,None]
    o=U(-0.12,0.12,C,2)
    bx=(ct*x+st*y)/sq[:,None]+0.5+o[:,:1]; by=(-st*x+ct*y)/sq[:,None]+0.5+o[:,1:]
    par=((bx.floor()+by.floor()+torch.randint(0,2,(C,1),device=dev))%2)
    lightA=U(0.35,0.9,S)[sidx]; darkA=lightA*U(0.12,0.75,S)[sidx]
    alb=torch.where(par>0.5,lightA[:,None],darkA[:,None])
    beyond=(torch.rand(C,device=dev)<0.35)  # the last rank: a margin beyond a line outwards
    edge=(by>1)&beyond[:,None]; alb=torch.where(edge,U(0.05,0.9,S)[sidx][:,None],alb)
    grain=U(0,0.12,S)[sidx][:,None]
    alb=alb*(1+grain*torch.sin(bx*U(5,40,C,1)+U(0,6,C,1)+0.6*torch.sin(by*U(1,6,C,1))))
    wA=U(0.35,0.95,S)[sidx]; bA=U(0.01,0.25,S)[sidx]
    for j in range(3):
        a=torch.where(ncol[j]==0,wA,bA)[:,None]*(1+0.05*torch.randn(C,1,device=dev))
        a=a*(1+U(0,0.25,S)[sidx][:,None]*torch.sin(zhit*U(3,30,C,1)+(x+y)*U(2,14,C,1)))
        alb=torch.where(who==j,a.expand(C,N),alb)
    # lights
    def lamp(per):
        m=S if not per else C
        az,el=U(0,2*math.pi,m),torch.deg2rad(U(15,80,m))
        if not per: az,el=az[sidx]+theta,el[sidx]
        return torch.stack([torch.cos(az)*torch.cos(el),torch.sin(az)*torch.cos(el),torch.sin(el)],-1)
    own=(torch.rand(S,device=dev)<0.35)[sidx][:,None]
    col_=torch.zeros(C,N,device=dev)
    amb=U(0.06,0.6,S)[sidx]; amb=torch.where(own[:,0],U(0.06,0.6,C),amb)
    gloss=(U(0,1.4,S)*(torch.rand(S,device=dev)<0.65))[sidx]
    total=amb[:,None]*(0.6+0.4*nrm[...,2])*alb
    # contact darkening
    for q in range(2):
        l=torch.where(own,lamp(True),lamp(False))
        w=U(0.3,1,S)[sidx]; w=torch.where(own[:,0],U(0.3,1,C),w)
        if q==1: w=w*(torch.rand(S,device=dev)<0.5).float()[sidx]
        dif=(nrm*l[:,None]).sum(-1).clamp(0,1)
        sh=torch.ones(C,N,device=dev)
        soft=U(0.02,0.2,S)[sidx]
        for i in range(12):
            s=(0.06+0.3*i)*(1.0)
            s=0.07*1.42**i
            px,py,pz=x+l[:,:1]*s,y+l[:,1:2]*s,zhit+l[:,2:]*s
            for j in range(3):
                f=inside(tab,rows[j],px-feet[j][:,:1],py-feet[j][:,1:],pz,yaws[j])
                sh=torch.minimum(sh,torch.where(pz<tab['h'][rows[j]][:,None],((f+0.02)/(0.02+soft[:,None]*s)).clamp(0,1),torch.ones_like(f)))
        view=torch.stack([torch.zeros_like(x),-reach[:,None]-y,Z[:,None]-zhit],-1); view=view/view.norm(dim=-1,keepdim=True)
        hv=view+l[:,None]; hv=hv/hv.norm(dim=-1,keepdim=True)
        spec=gloss[:,None]*(nrm*hv).sum(-1).clamp(0,1)**(U(8,90,S)[sidx][:,None])*(who>=0)
        total=total+w[:,None]*sh*(dif*alb+spec)
    im=total.view(C,n,n)
    im=F.avg_pool2d(im[:,None],SS)[:,0]
    # lens blur, exposure, curve, noise
    k=U(0,1.3,S)[sidx]; r=torch.arange(-3,4,device=dev).float()
    ker=torch.exp(-r[None]**2/(2*(k[:,None]**2+0.02))); ker=ker/ker.sum(1,keepdim=True)
    im=F.conv2d(F.pad(im[None],(3,3,0,0),mode='replicate'),ker[:,None,None,:],groups=C)
    im=F.conv2d(F.pad(im,(0,0,3,3),mode='replicate'),ker[:,None,:,None],groups=C)[0]
    expo=U(0.45,1.1,S)[sidx]*torch.where(own[:,0],U(0.75,1.3,C),torch.ones(C,device=dev))
    v=(im*expo[:,None,None]).clamp(0,1.3)
    v=(1.055*v.clamp(1e-4)**(1/2.4)-0.055).clamp(0,1)*255
    v=(v+U(0,5,S)[sidx][:,None,None]*torch.randn_like(v)).clamp(0,255)
    lean=reach*hg/(Z-hg)
    return v.view(S,K,M,SIDE,SIDE),lean.view(S,K,M),col.view(S,K,M)
def even(v):
    l=torch.log(v+16); m=l.mean((-1,-2),keepdim=True); s=l.std((-1,-2),keepdim=True,unbiased=False)+0.05
    return (l-m)/s
A1,A2,A3,HID,EMB=16,32,48,64,32
class Net(nn.Module):
    def __init__(s):
        super().__init__()
        s.c1=nn.Conv2d(1,A1,5,2,2); s.c2=nn.Conv2d(A1,A2,3,1,1); s.c3=nn.Conv2d(A2,A3,3,1,1)
        s.f1=nn.Linear(A3*36+1,HID); s.f2=nn.Linear(HID,EMB)
        s.same=nn.Parameter(torch.tensor(0.2)); s.unseen=nn.Parameter(torch.tensor(-6.))
    def one(s,x,lean):
        x=F.relu(s.c1(x)); x=F.max_pool2d(F.relu(s.c2(x)),2); x=F.max_pool2d(F.relu(s.c3(x)),2)
        x=torch.cat([x.flatten(1),lean[:,None]-0.5],1)
        return F.relu(s.f1(x))
    def forward(s,v,lean): # v raw 0-255 (n,48,48): a piece and its mirror image are alike
        x=even(v)[:,None]
        if s.training: h=s.one(x,lean) 
        h=s.one(x,lean)+s.one(x.flip(-1),lean)
        return s.f2(h/2)
def scores(net,e,kind,col,qe,qcol,K,mask):
    """e (S,R,E) refs of kind (S,R), used where mask; qe (S,Q,E): (S,Q,K+1) nats, the last: unseen"""
    d=-((qe[:,:,None]-e[:,None])**2).sum(-1)
    d=d+net.same*(qcol[:,:,None]==col[:,None])
    out=[]
    for k in range(K):
        m=(kind==k)&mask
        dk=torch.where(m[:,None] if m.dim()==2 else m,d,torch.full_like(d,-1e4))
        n=m.sum(-1).clamp(min=1).float()
        has=m.any(-1)
        v=torch.logsumexp(dk,-1)-torch.log(n)[:,None] if m.dim()==2 else torch.logsumexp(dk,-1)-torch.log(n)
        h=has[:,None] if m.dim()==2 else has
        out.append(torch.where(h,v,torch.full_like(v,-1e4)))
    out.append(net.unseen.expand_as(out[0]))
    return torch.stack(out,-1)
inside_plain=inside
def fresh(S=16,K=5,M=6):
    with torch.no_grad():
        v,lean,col=draw(make_sets(S,K),S,K,M)
    return v.round().to(torch.uint8),lean,col
def augment(v):
    S,K,M=v.shape[:3]; C=S*K*M
    v=v.reshape(C,SIDE,SIDE).float()
    flip=torch.rand(C,device=dev)<0.5
    v=torch.where(flip[:,None,None],v.flip(-1),v)
    sx,sy=torch.randint(-1,2,(C,),device=dev),torch.randint(-2,3,(C,),device=dev)
    i=torch.arange(SIDE,device=dev)
    v=v.gather(1,(i[None]+sy[:,None]).clamp(0,SIDE-1)[:,:,None].expand(C,SIDE,SIDE))
    v=v.gather(2,(i[None]+sx[:,None]).clamp(0,SIDE-1)[:,None,:].expand(C,SIDE,SIDE))
    g=(v/255).clamp(1e-3)**torch.exp(0.15*torch.randn(C,1,1,device=dev))*255*torch.exp(0.15*torch.randn(C,1,1,device=dev))
    soft=F.avg_pool2d(g[:,None],3,1,1)[:,0]; w=torch.rand(C,1,1,device=dev)*(torch.rand(C,1,1,device=dev)<0.4)
    g=g*(1-w)+soft*w
    g=g+torch.randn_like(g)*4*torch.rand(C,1,1,device=dev)
    return g.clamp(0,255)
def episode(net,batch,K=5):
    v=torch.cat([b[0] for b in batch]); lean=torch.cat([b[1] for b in batch]); col=torch.cat([b[2] for b in batch])
    S,K,M=v.shape[:3]
    perm=torch.argsort(torch.rand(S,K,M,device=dev),2)
    v=v.gather(2,perm[...,None,None].expand(S,K,M,SIDE,SIDE)); lean=lean.gather(2,perm); col=col.gather(2,perm)
    e=net(augment(v),lean.reshape(-1)).view(S,K,M,EMB)
    kind=torch.arange(K,device=dev).view(1,K,1).expand(S,K,M)
    R=M//2
    re,rk,rc=e[:,:,:R].reshape(S,-1,EMB),kind[:,:,:R].reshape(S,-1),col[:,:,:R].reshape(S,-1)
    qe,qk,qc=e[:,:,R:].reshape(S,-1,EMB),kind[:,:,R:].reshape(S,-1),col[:,:,R:].reshape(S,-1)
    mask=torch.rand(rk.shape,device=dev)<0.6
    drop=torch.randint(0,K,(S,1),device=dev); dropped=torch.rand(S,1,device=dev)<0.4
    mask&=~((rk==drop)&dropped)
    sc=scores(net,re,rk,rc,qe,qc,K,mask)
    has=torch.stack([((rk==k)&mask).any(1) for k in range(K)],1)
    want=torch.where(has.gather(1,qk),qk,torch.full_like(qk,K))
    logp=F.log_softmax(sc,-1)
    loss=F.nll_loss(logp.reshape(-1,K+1),want.reshape(-1))
    acc=(sc.argmax(-1)==want).float().mean()
    return loss,acc
def save(net,path):
    with open(path,'wb') as f:
        for p in (net.c1,net.c2,net.c3,net.f1,net.f2):
            for w in (p.weight,p.bias):
                b=w.detach().float().cpu().contiguous().view(torch.int32).numpy()
                r=((b+0x8000)>>16).astype('<u2'); f.write(r.tobytes())
        f.write(struct.pack('<ff',net.same.item(),net.unseen.item()))
def load_real(paths):
    out=[]
    for fn in paths:
        d=real(fn); keep=np.isin(d['k'],(1,2,3,4,5))
        for x in np.unique(d['s']):
            e=d[keep&(d['s']==x)]
            out.append((torch.tensor(e['crop'],device=dev),torch.tensor(e['lean'].copy(),device=dev),torch.tensor(e['c'].astype(np.int64),device=dev),torch.tensor(e['k'].astype(np.int64)-1,device=dev),torch.tensor(e['q'].astype(np.int64),device=dev)))
    return out
def real_episode(net,sessions,n=24,R=16,Q=12,K=5):
    V=[];L=[];C_=[];KK=[];QQ=[]
    for _ in range(n):
        v,l,c,k,q=sessions[np.random.randint(len(sessions))]
        # kinds alike
        w=1./torch.bincount(k,minlength=5).float()[k]
        i=torch.multinomial(w,R+Q,replacement=len(k)<R+Q)
        V.append(v[i]);L.append(l[i]);C_.append(c[i]);KK.append(k[i]);QQ.append(q[i])
    v=torch.stack(V);l=torch.stack(L);c=torch.stack(C_);k=torch.stack(KK);q=torch.stack(QQ)
    S=n
    e=net(augment(v[:,:,None]),l.reshape(-1)).view(S,R+Q,EMB)
    re,rk,rc,rq=e[:,:R],k[:,:R],c[:,:R],q[:,:R]; qe,qk,qc,qq=e[:,R:],k[:,R:],c[:,R:],q[:,R:]
    ok=(qq[:,:,None]!=rq[:,None])&(torch.rand(S,1,R,device=dev)<0.7)
    drop=torch.randint(0,K,(S,1),device=dev); dropped=torch.rand(S,1,device=dev)<0.3
    ok=ok&~((rk==drop)&dropped)[:,None]
    d=-((qe[:,:,None]-re[:,None])**2).sum(-1)+net.same*(qc[:,:,None]==rc[:,None])
    out=[];has=[]
    for j in range(K):
        m=ok&(rk==j)[:,None]; h=m.any(-1)
        out.append(torch.where(h,torch.logsumexp(torch.where(m,d,torch.full_like(d,-1e4)),-1)-torch.log(m.sum(-1).clamp(min=1).float()),torch.full_like(qk,0).float()-1e4)); has.append(h)
    out.append(net.unseen.expand_as(out[0])); sc=torch.stack(out,-1); has=torch.stack(has,-1)
    want=torch.where(has.gather(2,qk[:,:,None])[:,:,0],qk,torch.full_like(qk,K))
    return F.cross_entropy(sc.reshape(-1,K+1),want.reshape(-1)),(sc.argmax(-1)==want).float().mean()
# real pictures, of ray-traced games
def real(path):
    dt=np.dtype([('s','<u2'),('q','u1'),('k','u1'),('c','u1'),('lean','<f4'),('crop','u1',(SIDE,SIDE))])
    return np.fromfile(path,dt)
def check(net,paths):
    """nats a piece and share named rightly, each told from the other pieces of its session"""
    net.eval(); loss=0.; right=0; n=0
    with torch.no_grad():
        for v,l,c,k,q in load_real(paths):
            e=net(v.float(),l); d=-((e[:,None]-e[None])**2).sum(-1)+net.same*(c[:,None]==c[None])
            ok=q[:,None]!=q[None]; out=[]
            for j in range(5):
                m=ok&(k==j)[None]
                out.append(torch.where(m.any(1),torch.logsumexp(torch.where(m,d,torch.full_like(d,-1e4)),1)-torch.log(m.sum(1).clamp(min=1).float()),torch.full_like(l,-1e4)))
            has=torch.stack([(ok&(k==j)[None]).any(1) for j in range(5)],1)
            sc=torch.stack(out+[net.unseen.expand_as(out[0])],1)
            want=torch.where(has.gather(1,k[:,None])[:,0],k,torch.full_like(k,5))
            loss+=F.cross_entropy(sc,want,reduction='sum').item(); right+=(sc.argmax(1)==want).sum().item(); n+=len(k)
    net.train()
    return 'nats %.4f, right %d of %d'%(loss/max(1,n),right,n)
def write_looks(net,path,crops,n=12):
    """Crops with what the weights as saved make of them: lean, numbers, greys."""
    d=np.concatenate([real(p) for p in crops]); d=d[np.isin(d['k'],(1,2,3,4,5))]
    d=d[np.linspace(0,len(d)-1,n).astype(int)]
    saved=Net().cpu().eval(); saved.load_state_dict({k:v.cpu() for k,v in net.state_dict().items()})
    with torch.no_grad():
        for layer in (saved.c1,saved.c2,saved.c3,saved.f1,saved.f2):
            for w in (layer.weight,layer.bias):
                w.copy_((((w.contiguous().view(torch.int32)+0x8000)>>16)<<16).view(torch.float32))
        e=saved(torch.tensor(d['crop'].astype(np.float32)),torch.tensor(d['lean'].copy())).numpy().astype('<f4')
    with open(path,'wb') as f:
        for i in range(n): f.write(d['lean'][i].astype('<f4').tobytes()+e[i].tobytes()+d['crop'][i].tobytes())
if __name__=='__main__':
    count=int(sys.argv[1]); out=sys.argv[2]; learn=[p[1:] for p in sys.argv[3:] if p[0]=='+']; start=[p[1:] for p in sys.argv[3:] if p[0]=='=']; paths=[p for p in sys.argv[3:] if p[0] not in '+=']; R_=load_real(learn); ra=[]; rate=2e-3 if not start else 1e-3
    net=Net().to(dev); print(sum(p.numel() for p in net.parameters()))
    if start: net.load_state_dict(torch.load(start[0],map_location=dev))
    opt=torch.optim.AdamW(net.parameters(),1.5e-3,weight_decay=1e-4)
    t0=time.time(); step=0; la=[]; pool=[]; drawn=0
    try:
        inside=torch.compile(inside_plain); fresh(); print('compiled','%.0f s'%(time.time()-t0),flush=True)
    except Exception as ex:
        inside=inside_plain; print('not compiled',str(ex)[:200])
    t0=time.time()
    while drawn<count:
        f=drawn/count
        b=fresh(); drawn+=1
        if len(pool)<3000: pool.append(b)
        else: pool[random.randrange(len(pool))]=b
        for g in opt.param_groups: g['lr']=rate*min(1,step/100+0.01)*(0.5*(1+math.cos(math.pi*f))+0.003)
        for _ in range(3 if len(pool)>20 else 1):
            loss,acc=episode(net,[b]+random.sample(pool,min(len(pool),3)))
            if R_:
                rl,racc=real_episode(net,R_); ra.append((rl.item(),racc.item())); loss=loss+0.7*rl
            opt.zero_grad(); loss.backward(); nn.utils.clip_grad_norm_(net.parameters(),1.); opt.step()
            la.append((loss.item(),acc.item())); step+=1
        if drawn in (10,40,100) or drawn%300==0:
            l=la[-300:]; print(drawn,step,'%.0f s'%(time.time()-t0),'loss %.3f acc %.3f'%(sum(x[0] for x in l)/len(l),sum(x[1] for x in l)/len(l)),'real %.3f %.3f'%(sum(x[0] for x in ra[-300:])/max(1,len(ra[-300:])),sum(x[1] for x in ra[-300:])/max(1,len(ra[-300:]))),net.same.item(),net.unseen.item(),check(net,paths) if drawn%300==0 else '',flush=True)
            save(net,out)
    save(net,out); torch.save(net.state_dict(),os.path.dirname(out)+'/net.pt'); print(check(net,paths))
    if paths: write_looks(net,os.path.dirname(out)+'/looks.bin',paths)
